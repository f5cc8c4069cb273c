/**
 * Who signed what is in a record, and how each key is known: the admission that names it, the admission of who admitted it, and so on
 * up to the book's root, whose key id is the book's own name. Each step names the line where it can be read.
 *
 * SPEC: RE.
 */
import type { BookState, KeyId, Role } from "@sward/core";
import { byCodeUnits, byNumber, keyIdOf } from "@sward/core";
import type { RecordLine } from "./lines.ts";

/** `by` admitted `key` in `role`, as it says in a line of the file. */
export interface KnownThrough {
  readonly key: KeyId;
  readonly role: Role | "root";
  readonly by: KeyId;
  readonly line: number;
}

export interface SignerReport {
  readonly key: KeyId;
  /** Null: the record admits it to nothing, and nothing it signed counts. */
  readonly role: Role | "root" | null;
  /** In a league, the club it speaks for. */
  readonly club: KeyId | null;
  readonly entries: number;
  /** How many of them count. */
  readonly counted: number;
  readonly barred: boolean;
  /** From this key's admission upwards; the last one's `by` is the root. Empty for the root and for those not admitted. */
  readonly known: readonly KnownThrough[];
}

/** Every key that signed an entry, and the exporter's: the root first, then by key. */
export function signersOf(lines: readonly RecordLine[], state: BookState, exporter: KeyId): SignerReport[] {
  const keys = new Set([exporter, ...lines.map(({ entry }) => entry.author)]);
  const isRoot = (key: KeyId): number => (key === (state.book as string) ? 0 : 1);
  return [...keys]
    .sort((a, b) => byNumber(isRoot(a), isRoot(b)) || byCodeUnits(a, b))
    .map((key) => signerOf(key, lines, state));
}

function signerOf(key: KeyId, lines: readonly RecordLine[], state: BookState): SignerReport {
  const own = lines.filter(({ entry }) => entry.author === key);
  const device = state.devices.get(key);
  return {
    key,
    role: device?.role ?? null,
    club: device?.club ?? null,
    entries: own.length,
    counted: own.filter(({ entry }) => !state.uncounted.has(entry.id)).length,
    barred: device?.barred ?? false,
    known: knownThrough(key, lines, state),
  };
}

export function knownThrough(from: KeyId, lines: readonly RecordLine[], state: BookState): KnownThrough[] {
  const steps: KnownThrough[] = [];
  let key = from;
  for (;;) {
    const device = state.devices.get(key);
    if (device === undefined || device.admittedBy === key) return steps;
    const { role, admittedBy: by } = device;
    const admission = lines.find(
      ({ entry }) => entry.author === by && !state.uncounted.has(entry.id) && admits(entry, key, role),
    );
    if (admission === undefined) return steps;
    steps.push({ key, role, by, line: admission.line });
    key = by;
  }
}

function admits(entry: RecordLine["entry"], key: KeyId, role: Role | "root"): boolean {
  if (!entry.understood) return false;
  if (entry.kind === "club-admitted") return keyIdOf(entry.body.club) === key;
  return entry.kind === "device-admitted" && entry.body.role === role && keyIdOf(entry.body.device) === key;
}
