/**
 * Results on their way to a player's home club: a few signed entries of the book they were written in, with the admissions that say who
 * was allowed to sign them. Written and read like a record, without a first line: nobody vouches that these are all results there are,
 * and nobody has to.
 *
 * The home club's book carries each one with its original signature, once, whoever brings it and however often. Where the player went
 * under another id there, the slip has the other club's link along, and the same is said here.
 *
 * API: `writeSlip(book, reports)` · `readSlip(text)` · `takeSlip(book, slip, as)`; sentences are in `messages.ts`.
 *
 * SPEC: SL.
 */
import type {
  BookId,
  BookState,
  Counted,
  Draft,
  EntryId,
  EntryOf,
  KeyId,
  KnownEntry,
  PlayerId,
  PublicKey,
  Result,
  Uncounted,
} from "@sward/core";
import { byCodeUnits, byNumber, checkLink, createLedger, fail, findRuleSet, keyIdOf, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault } from "../book/faults.ts";
import { keysIn } from "../book/stated.ts";
import { parcelOfText } from "../invite/parcels.ts";
import { createVerifier } from "../keys/verifier.ts";
import { personOf } from "./excerpt.ts";
import type { RecordFault, SlipFault } from "./faults.ts";
import type { RecordLine } from "./lines.ts";
import { readEntries } from "./lines.ts";
import type { KnownThrough } from "./signers.ts";
import { knownThrough } from "./signers.ts";
import { signatureFault } from "./verify.ts";

export type SlipSource = Pick<Book, "id" | "state" | "counted" | "signed">;
export type BookTakingSlips = Pick<Book, "id" | "state" | "counted" | "append">;

type Report = EntryOf<"match-reported">;

/** Standing reports of this book, not those it carries, of matches of a player between two days. */
export function reportsToSend(
  { id, state }: Pick<Book, "id" | "state">,
  player: PlayerId,
  { from = "", to = "~" }: { readonly from?: string; readonly to?: string } = {},
): EntryId[] {
  const found: EntryId[] = [];
  for (const { reports } of state().matches.values())
    for (const { entry, origin, facts } of reports)
      if (origin === id && from <= facts.date && facts.date <= to)
        if (facts.sides.flat().some((seat) => seat.player === player)) found.push(entry);
  return found.sort(byCodeUnits);
}

/** The file, or why there is none. */
export function writeSlip(source: SlipSource, reports: readonly EntryId[]): Result<string, SlipFault> {
  const own: KnownEntry[] = [];
  for (const { entry, origin } of source.counted() as Iterable<Counted>) if (origin === source.id) own.push(entry);
  const wanted = new Set(reports);
  const sent = own.filter((entry): entry is Report => entry.kind === "match-reported" && wanted.has(entry.id));
  if (sent.length === 0) return fail({ type: "slip-nothing" });
  const chosen = new Set<KnownEntry>(sent);
  const players = new Set(sent.flatMap(({ body }) => body.sides.flat().map(({ player }) => player)));
  const events = new Set(sent.flatMap(({ body }) => body.event ?? []));
  for (const entry of own) {
    if (entry.kind === "event-opened" && events.has(entry.body.event)) chosen.add(entry);
    if (entry.kind === "player-linked" && (players.has(entry.body.player) || players.has(entry.body.to)))
      chosen.add(entry);
  }
  for (const entry of admissionsOf(chosen, own, source.state())) chosen.add(entry);
  const texts = [...chosen].sort(byReading).flatMap(({ id }) => source.signed(id) ?? []);
  return ok(texts.map((jws) => `${JSON.stringify(jws)}\n`).join(""));
}

/** Who may sign: the opening, and the way from each signer up to the root, with the bars on it. */
function admissionsOf(chosen: Iterable<KnownEntry>, own: readonly KnownEntry[], { devices }: BookState): KnownEntry[] {
  const keys = new Set<KeyId>();
  for (const { author } of chosen)
    for (let key = author; !keys.has(key); ) {
      keys.add(key);
      key = devices.get(key)?.admittedBy ?? key;
    }
  return own.filter((entry) => {
    if (entry.kind === "book-opened") return true;
    if (entry.kind === "device-barred") return keys.has(entry.body.device);
    if (entry.kind === "club-admitted") return keys.has(keyIdOf(entry.body.club));
    return entry.kind === "device-admitted" && keys.has(keyIdOf(entry.body.device)) && keys.has(entry.author);
  });
}

export interface SlipReport {
  readonly entry: Report;
  readonly line: number;
  /** Who signed it, how that is known, and why it does not count there; null when it does. */
  readonly by: KeyId;
  readonly known: readonly KnownThrough[];
  readonly uncounted: Uncounted | null;
}

export interface Slip {
  readonly book: BookId;
  readonly name: string;
  readonly reports: readonly SlipReport[];
  readonly state: BookState;
  readonly lines: readonly RecordLine[];
}

/** A slip as it goes in codes from screen to screen. */
export const parcelOfSlip = (text: string): Uint8Array => new TextEncoder().encode(text);

export const slipOfParcel = (parcel: Uint8Array): string => new TextDecoder().decode(parcel);

/**
 * Checked with nothing but the file: form, every signature, who may sign.
 * @param given a slip, or one in the text form of a parcel
 */
export async function readSlip(given: string): Promise<Result<Slip, RecordFault | SlipFault>> {
  const parcel = parcelOfText(given);
  const rows = (parcel.ok ? slipOfParcel(parcel.value) : given).split("\n");
  if (rows.pop() !== "") return fail({ type: "record-unended", line: rows.length + 1 });
  const read = readEntries(rows, 1, null);
  if (!read.ok) return read;
  const lines = read.value;
  const verifier = createVerifier();
  for (const { entry } of lines) if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);
  const fault = await signatureFault(lines, verifier);
  if (fault !== null) return fail(fault);
  const [first] = lines;
  if (first === undefined) return fail({ type: "slip-nothing" });
  const { book } = first.entry;
  const ledger = createLedger(book, { findRules: findRuleSet, chains: "excerpt" });
  ledger.add(lines.map(({ entry }) => ({ entry })));
  const state = ledger.state();
  if (state.as === null) return fail({ type: "record-no-opening", line: 1, book });
  const reports = lines.flatMap(({ entry, line }): SlipReport[] => {
    if (!entry.understood || entry.kind !== "match-reported") return [];
    const uncounted = state.uncounted.get(entry.id) ?? null;
    return [{ entry, line, by: entry.author, known: knownThrough(entry.author, lines, state), uncounted }];
  });
  return reports.length === 0 ? fail({ type: "slip-nothing" }) : ok({ book, name: state.name, reports, state, lines });
}

export interface TakenSlip {
  /** Members of this club who were in the matches. */
  readonly players: readonly PlayerId[];
  readonly added: number;
  readonly known: number;
  /** Reports that do not count where they were written, and are not carried. */
  readonly unconfirmed: number;
  /** Null when all of it was here already. */
  readonly entries: readonly EntryId[] | null;
}

/** Who a player of the slip is here, where neither book says. */
export interface SlipAs {
  readonly player: PlayerId;
  readonly is: PlayerId;
}

export async function takeSlip(
  book: BookTakingSlips,
  slip: Slip,
  as: SlipAs | null = null,
): Promise<Result<TakenSlip, SlipFault | AppendFault>> {
  const state = book.state();
  if (state.as !== "club") return fail({ type: "slip-into-league" });
  if (slip.book === book.id) return fail({ type: "slip-own-book" });
  const good = slip.reports.filter(({ uncounted }) => uncounted === null);
  if (good.length === 0) return fail({ type: "slip-unconfirmed", reports: slip.reports.length });
  const links = linksFor(state, slip, good, as);
  if (!links.ok) return links;
  const isOurs = ({ player }: { readonly player: PlayerId }) => links.value.ours.get(player) ?? [];
  const players = [...new Set(good.flatMap(({ entry }) => entry.body.sides.flat().flatMap(isOurs)))];
  if (players.length === 0) return fail({ type: "slip-nobody", name: slip.name });

  const copied = new Set<EntryId>();
  for (const { entry } of book.counted()) copied.add(entry.id);
  const added = good.filter(({ entry }) => !copied.has(entry.id)).length;
  const told = { players, added, known: good.length - added, unconfirmed: slip.reports.length - good.length };
  const drafts = [...links.value.drafts, ...carrying(slip, copied)];
  if (drafts.length === 0) return ok({ ...told, entries: null });
  const saved = await book.append(drafts);
  return saved.ok ? ok({ ...told, entries: saved.value }) : saved;
}

/** The ids in a slip that are members here, as far as the two books say. */
export function membersIn(state: BookState, slip: Slip): ReadonlyMap<PlayerId, PlayerId> {
  const links = linksFor(state, slip, slip.reports, null);
  return links.ok ? links.value.ours : new Map();
}

/** Its events first, then the reports. */
function carrying({ book, lines, state }: Slip, copied: ReadonlySet<EntryId>): Draft[] {
  const keys = new Map<KeyId, PublicKey>();
  for (const { entry } of lines) if (entry.understood) for (const key of keysIn(entry)) keys.set(keyIdOf(key), key);
  return ["event-opened", "match-reported"].flatMap((kind) =>
    lines.flatMap(({ entry, jws }): Draft[] => {
      const key = keys.get(entry.author);
      if (entry.kind !== kind || copied.has(entry.id) || state.uncounted.has(entry.id) || key === undefined) return [];
      return [{ kind: "entry-carried", body: { from: book, key, entry: jws } }];
    }),
  );
}

interface SlipLinks {
  /** The member here that an id of the slip is. */
  readonly ours: ReadonlyMap<PlayerId, PlayerId>;
  readonly drafts: readonly Draft[];
}

function linksFor(
  state: BookState,
  slip: Slip,
  good: readonly SlipReport[],
  as: SlipAs | null,
): Result<SlipLinks, SlipFault> {
  const memberOf = (id: PlayerId): PlayerId | null => {
    const person = personOf(state, id);
    return person !== null && state.players.get(person)?.standing !== "visitor" ? person : null;
  };
  const said = slip.lines.flatMap(({ entry }) =>
    entry.understood && entry.kind === "player-linked" && !slip.state.uncounted.has(entry.id) ? [entry.body] : [],
  );
  const ours = new Map<PlayerId, PlayerId>();
  const drafts: Draft[] = [];
  for (const { player } of good.flatMap(({ entry }) => entry.body.sides.flat())) {
    const here = memberOf(player);
    if (here !== null) ours.set(player, here);
    if (here !== null || ours.has(player)) continue;
    const ends = said.flatMap((link) => (link.player === player ? [link.to] : link.to === player ? [link.player] : []));
    const to = as?.player === player ? as.is : ends.find((end) => memberOf(end) !== null);
    const is = to === undefined ? null : memberOf(to);
    if (is === null) continue;
    // Not yet known here: checked as the one it is to be linked to.
    const known = personOf(state, player) !== null;
    const why = checkLink(known ? { player, to: is } : { player: is, to: player }, state);
    if (why !== null) return fail({ type: "slip-other-player", player, is, why });
    ours.set(player, is);
    if (!known)
      drafts.push({ kind: "player-joined", body: { player, standing: "visitor", home: { book: state.book } } });
    drafts.push({ kind: "player-linked", body: { player, to: is } });
  }
  return ok({ ours, drafts });
}

const ranks: Readonly<Partial<Record<KnownEntry["kind"], number>>> = {
  "book-opened": 0,
  "club-admitted": 1,
  "device-admitted": 2,
  "device-barred": 3,
  "player-linked": 4,
  "event-opened": 5,
};

const byReading = (a: KnownEntry, b: KnownEntry): number =>
  byNumber(ranks[a.kind] ?? 6, ranks[b.kind] ?? 6) || byCodeUnits(a.author, b.author) || byNumber(a.seq, b.seq);
