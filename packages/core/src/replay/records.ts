/**
 * A player who came from another club: the old book's entries about him, read by the old book's own authority, corrections, links
 * and rules, as an excerpt. What it comes to for days before the cut-over goes into the card here as it is, under the keys and ids of
 * the old book: so the lines are the same bytes, and signatures made there still hold.
 *
 *     record-part ─┐                       matches, settings, rules, events, signatures
 *     record-part ─┼─> ledger of the old ──────────── before the cut-over ───────────────> this player's card
 *     record-taken ┘   book (excerpt)                  this book's own ── from it on ───>
 *
 * Several records of one club are one set of entries: taking the same in twice changes nothing, a newer one brings what came late.
 *
 * Rejected: a starting handicap with the old card attached as a picture (a late result could never reach it), and putting the old
 * entries among this book's own (its officers, rulings and links would reach what they may not decide).
 *
 * SPEC: MV.
 */
import type { BookId, EntryId, KeyId, PlayerId } from "../ids.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import { digestOf, keyIdOf } from "../ledger/encoding.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Day } from "../ledger/kinds.ts";
import { currentKey } from "../matches/identity.ts";
import { byCodeUnits } from "../order.ts";
import type { BookState, RecordTaking, TakenRecord } from "../state.ts";
import type { Books } from "./books.ts";
import type { OldBook, Past } from "./career.ts";
import type { Arrival } from "./held.ts";

export type OpenOldBook = (book: BookId, arrivals: readonly Arrival[]) => OldBook;

export interface SettledRecords {
  readonly pasts: ReadonlyMap<PlayerId, Past>;
  readonly taken: ReadonlyMap<PlayerId, readonly TakenRecord[]>;
}

type Taken = EntryOf<"record-taken">;

interface Read {
  readonly taken: Taken;
  readonly complete: boolean;
  readonly inside: ReadonlyMap<EntryId, Arrival>;
}

export function settleRecords(
  books: Books,
  arrivals: ReadonlyMap<EntryId, Arrival>,
  openOld: OpenOldBook,
): SettledRecords {
  const groups = new Map<PlayerId, Map<BookId, Read[]>>();
  for (const taken of books.standing("record-taken")) {
    const person = books.links.resolve(taken.body.player);
    const ofPerson = groups.get(person) ?? new Map<BookId, Read[]>();
    groups.set(person, ofPerson);
    ofPerson.set(taken.body.from, [...(ofPerson.get(taken.body.from) ?? []), readTaken(taken, books, arrivals)]);
  }
  const pasts = new Map<PlayerId, Past>();
  const taken = new Map<PlayerId, readonly TakenRecord[]>();
  for (const [person, ofPerson] of groups) {
    const records = [...ofPerson.values()].map((reads) => readRecord(reads, openOld));
    const [inUse] = records.filter(({ old }) => old !== null).sort(byCutover);
    if (inUse !== undefined) pasts.set(person, pastOf(inUse, books.links.resolve));
    taken.set(
      person,
      records.sort(byCutover).map((one) => viewRecord(one, one === inUse)),
    );
  }
  return { pasts, taken };
}

function readTaken(taken: Taken, books: Books, arrivals: ReadonlyMap<EntryId, Arrival>): Read {
  const inside = new Map<EntryId, Arrival>();
  for (const id of taken.body.parts) {
    const part = books.entry(id);
    if (part?.kind !== "record-part" || part.body.from !== taken.body.from || !books.corrections.stands(id)) continue;
    for (const one of arrivals.get(id)?.parts ?? []) if (one !== null) inside.set(one.entry.id, one);
  }
  const digest = digestOf([...inside.keys()].sort(byCodeUnits).join("\n"));
  return { taken, complete: inside.size === taken.body.entries && digest === taken.body.digest, inside };
}

interface RecordHere {
  readonly reads: readonly Read[];
  readonly from: BookId;
  readonly cutover: Day;
  /** Null while nothing is complete, or where it is no club's. */
  readonly old: OldBook | null;
  readonly player: PlayerId;
}

function readRecord(reads: readonly Read[], openOld: OpenOldBook): RecordHere {
  const sorted = [...reads].sort((a, b) => byAuthorLastFirst(a.taken, b.taken));
  const complete = sorted.filter((one) => one.complete);
  const { body } = ((complete[0] ?? sorted[0]) as Read).taken;
  const inside = new Map<EntryId, Arrival>();
  for (const one of complete) for (const [id, arrival] of one.inside) inside.set(id, arrival);
  const old = complete.length === 0 ? null : openOld(body.from, [...inside.values()]);
  const isClubs = old?.state().as === "club";
  return { reads: sorted, from: body.from, cutover: body.cutover, old: isClubs ? old : null, player: body.player };
}

function pastOf({ old, player, cutover }: RecordHere, resolve: (id: PlayerId) => PlayerId): Past {
  const career = (old as OldBook).career(player);
  return {
    ...career,
    cutover,
    matches: career.matches.filter(({ facts }) => facts.date < cutover),
    keys: new Set(career.keys.map((key) => currentKey(key, resolve))),
    sets: career.sets.filter(({ body }) => body.from < cutover),
    signed: career.signed.filter(({ body }) => body.upto < cutover),
  };
}

function viewRecord({ reads, from, cutover, old }: RecordHere, inUse: boolean): TakenRecord {
  const state = old?.state();
  const beyond = [...(state?.uncounted ?? [])].filter(([, reason]) => reason === "after-bar").map(([id]) => id);
  const authors = new Map<EntryId, KeyId>();
  for (const { inside } of reads) for (const [id, { entry }] of inside) authors.set(id, entry.author);
  const signers = [...(state?.devices.values() ?? [])].map(({ device: key, role, admittedBy, counted, barred }) => ({
    key,
    role,
    admittedBy,
    counted,
    barred,
  }));
  return {
    from,
    name: state?.name ?? "",
    cutover,
    inUse,
    takings: reads.map((one) => viewTaking(one, state, beyond)),
    signers: signers.sort((a, b) => byCodeUnits(a.key, b.key)),
    beyond: beyond.sort(byCodeUnits).map((entry) => ({ entry, by: authors.get(entry) as KeyId })),
  };
}

function viewTaking(
  { taken, complete, inside }: Read,
  state: BookState | undefined,
  beyond: readonly EntryId[],
): RecordTaking {
  const { id, author, at, body } = taken;
  const vouchedBy = keyIdOf(body.key);
  const isConfirmed =
    state?.devices.has(vouchedBy) === true && !beyond.some((one) => inside.get(one)?.entry.author === vouchedBy);
  return {
    entry: id,
    by: author,
    at,
    cutover: body.cutover,
    entries: body.entries,
    digest: body.digest,
    vouchedBy,
    complete,
    standing: isConfirmed ? "confirmed" : "unconfirmed",
  };
}

const byCutover = (a: RecordHere, b: RecordHere): number =>
  byCodeUnits(b.cutover, a.cutover) || byCodeUnits(a.from, b.from);
