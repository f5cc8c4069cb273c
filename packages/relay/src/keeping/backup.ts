/**
 * A backup is a text file that any tool can read: a head, a line for every update of every room, and a last line by which a file that
 * was cut short or altered is known. It holds what the store holds, sealed as it is there. It goes into any store, LevelDB's or the
 * shared one, and adds to what is there: restoring twice, or into a store in use, changes nothing that it should not.
 *
 *     {"sward-relay-backup":1,"store":"<id of the store it was taken from>"}
 *     {"kind":"ledger","room":"<43 characters>","update":"<base64url>"}
 *     {"rooms":<number>,"updates":<number>,"sha256":"<base64url, of all lines before with their ends>"}
 *
 * Rejected: copying the store's files, which are of no use to another store and must be copied at one moment.
 */
import { createHash } from "node:crypto";
import { RoomKind, RoomName } from "@sward/core";
import * as z from "zod";
import type { RoomKey, Storage } from "../storage.ts";

const Head = z.object({ "sward-relay-backup": z.literal(1), store: z.string() });
const Line = z.object({ kind: RoomKind(), room: RoomName(), update: z.base64url() });
const End = z.object({ rooms: z.number(), updates: z.number(), sha256: z.string() });

/** The lines of a backup, each with its end. */
export async function* backupLines(storage: Storage): AsyncGenerator<string> {
  const hash = createHash("sha256");
  let [rooms, updates] = [0, 0];
  const head = `${JSON.stringify({ "sward-relay-backup": 1, store: storage.id })}\n`;
  hash.update(head);
  yield head;
  for await (const { key, updates: all } of storage.rooms()) {
    rooms += 1;
    for (const update of all) {
      updates += 1;
      const line = `${JSON.stringify({ ...key, update: Buffer.from(update).toString("base64url") })}\n`;
      hash.update(line);
      yield line;
    }
  }
  yield `${JSON.stringify({ rooms, updates, sha256: hash.digest("base64url") })}\n`;
}

export type BackupFault =
  | { readonly type: "not-a-backup" }
  | { readonly type: "bad-line"; readonly line: number }
  | { readonly type: "cut-short" }
  | { readonly type: "altered" };

/** Thrown while lines are read, so that it ends whatever is reading them. */
export class BadBackup extends Error {
  readonly fault: BackupFault;
  constructor(fault: BackupFault) {
    super(fault.type === "bad-line" ? `bad-line ${fault.line}` : fault.type);
    this.fault = fault;
  }
}

export interface SavedUpdate {
  readonly key: RoomKey;
  readonly update: Uint8Array;
}

/** What is in a backup, in its order. Throws a `BadBackup`; what came before that was read well. Lines come without their ends. */
export async function* readBackup(lines: AsyncIterable<string>): AsyncGenerator<SavedUpdate> {
  const hash = createHash("sha256");
  let [line, updates, ended] = [0, 0, false];
  for await (const text of lines) {
    line += 1;
    if (ended && text !== "") throw new BadBackup({ type: "bad-line", line });
    const value = jsonOf(text);
    if (line === 1) {
      if (!Head.safeParse(value).success) throw new BadBackup({ type: "not-a-backup" });
    } else {
      const end = End.safeParse(value);
      if (end.success) {
        const whole = end.data.updates === updates && end.data.sha256 === hash.copy().digest("base64url");
        if (!whole) throw new BadBackup({ type: "altered" });
        ended = true;
        continue;
      }
      const read = Line.safeParse(value);
      if (!read.success) throw new BadBackup({ type: "bad-line", line });
      updates += 1;
      const { kind, room, update } = read.data;
      yield { key: { kind, room }, update: new Uint8Array(Buffer.from(update, "base64url")) };
    }
    hash.update(`${text}\n`);
  }
  if (!ended) throw new BadBackup({ type: line === 0 ? "not-a-backup" : "cut-short" });
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
