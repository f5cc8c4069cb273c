/**
 * A player comes from another club: the record that was verified is taken into this club's book, and the card goes on from it. The
 * entries go in as parts, each small enough to go along whole when the player moves on; parts that are here already are used again. Then
 * one entry says which parts are the record, who vouched for it, and from which day this club's book goes on. What the record has of
 * later days comes as slips do, carried one by one.
 *
 * It is two savings, since a part's id is known only when it is signed. Stopped between the two, there are parts that nothing names:
 * they change nothing, and the next attempt uses them.
 *
 * API: `takeRecord(book, verified, wish)` → what became of it, or a `TakingFault` or `AppendFault`; sentences are in `messages.ts`.
 *
 * SPEC: MV.
 */
import type { BookId, BookState, Card, Day, Draft, EntryId, LinkFault, PlayerId, PublicKey, Result } from "@sward/core";
import { canonicalText, checkLink, decodeEntry, fail, keyIdOf, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import type { AppendFault } from "../book/faults.ts";
import { keysIn } from "../book/stated.ts";
import { personOf } from "./excerpt.ts";
import type { TakingFault } from "./faults.ts";
import type { VerifiedRecord } from "./verify.ts";

export type BookTakingIn = Pick<Book, "id" | "state" | "append" | "counted">;

export interface TakingWish {
  /** The first day that is this club's; the day after the player left, or after the record was written, unless given. */
  readonly cutover?: Day;
  /** Who the player is here, where known under another id. */
  readonly as?: PlayerId;
}

export interface TakenIn {
  readonly player: PlayerId;
  readonly cutover: Day;
  /** Entries of the record that were not here before, and those that were. */
  readonly added: number;
  readonly known: number;
  /** Null when it had all been done before. */
  readonly entries: readonly EntryId[] | null;
  readonly card: Card | null;
  /** The lines before the cut-over are those of the record, byte for byte. */
  readonly same: boolean;
}

/** A part is carried in a part at the next club, each time a third longer: so many characters allow for five moves. */
const PART = 6_000;
const PARTS_AT_MOST = 400;
const ENTRY_AT_MOST = 23_000;

export function dayAfter(day: Day): Day {
  const [year = 0, month = 1, date = 1] = day.split("-").map(Number);
  return new Date(Date.UTC(year, month - 1, date + 1)).toISOString().slice(0, 10);
}

/** The cut-over that a record itself suggests. */
export function suggestedCutover({ report, state, texts }: VerifiedRecord): Day {
  const leavings = texts.flatMap((jws) => {
    const entry = decodeEntry(jws);
    if (!entry.ok || !entry.value.understood || entry.value.kind !== "player-left") return [];
    const { body, id } = entry.value;
    return personOf(state, body.player) === report.player && !state.uncounted.has(id) ? [body.on] : [];
  });
  return dayAfter(leavings.sort().at(-1) ?? report.at.slice(0, 10));
}

export async function takeRecord(
  book: BookTakingIn,
  record: VerifiedRecord,
  wish: TakingWish = {},
): Promise<Result<TakenIn, TakingFault | AppendFault>> {
  const checked = checkTaking(book, record, wish.as);
  if (!checked.ok) return checked;
  const { player, joining } = checked.value;
  const cutover = wish.cutover ?? standingCutover(book, record, player) ?? suggestedCutover(record);
  const parts = partsFor(book, record);
  if (!parts.ok) return parts;
  const { used, fresh, known } = parts.value;
  const told = { player, cutover, added: record.texts.length - known, known };
  const carried = laterReports(book, record, player, cutover);
  if (fresh.length + joining.length + carried.length === 0 && isTakenAlready(book, record, player, cutover))
    return ok({ ...told, entries: null, ...compared(book.state(), record, player, cutover) });

  const first = await book.append([...joining, ...fresh]);
  if (!first.ok) return first;
  const ids = [...used, ...first.value.slice(joining.length)];
  const body = { ...vouchedFor(record, player), cutover, parts: ids };
  const second = await book.append([{ kind: "record-taken", body }, ...carried]);
  if (!second.ok) return second;
  const entries = [...first.value, ...second.value];
  return ok({ ...told, entries, ...compared(book.state(), record, player, cutover) });
}

/** Whether it may be taken, and what says who the player is here. */
export function checkTaking(
  book: Pick<Book, "id" | "state">,
  { report }: VerifiedRecord,
  as?: PlayerId,
): Result<{ readonly player: PlayerId; readonly joining: readonly Draft[] }, TakingFault> {
  const { player, book: from } = report;
  const state = book.state();
  if (state.as !== "club") return fail({ type: "taking-into-league" });
  if (from === book.id) return fail({ type: "taking-own-book" });
  if (player === null) return fail({ type: "taking-whole-book", name: report.name });
  if (report.as !== "club") return fail({ type: "taking-of-league", name: report.name });
  const here = personOf(state, player);
  const joining: Draft[] = [];
  if (as !== undefined && personOf(state, as) === null) return fail({ type: "taking-nobody", player: as });
  if (as !== undefined && personOf(state, as) !== (here ?? player)) {
    const why = checkLink({ player: as, to: player }, state) ?? hasOwnCard(state, as, from);
    if (why !== null) return fail({ type: "taking-other-player", player, as, why });
    joining.push({ kind: "player-linked", body: { player: as, to: player } });
  }
  const known = [here, as === undefined ? null : personOf(state, as)].flatMap(
    (id) => state.players.get(id as PlayerId) ?? [],
  );
  if (!known.some(({ standing }) => standing === "member"))
    joining.push({ kind: "player-joined", body: { player, standing: "member" } });
  return ok({ player, joining });
}

/** Who has games on a card of this club's is not somebody who comes from another. */
function hasOwnCard(state: BookState, as: PlayerId, from: BookId): LinkFault | null {
  const lines = state.cards.get(personOf(state, as) ?? as)?.lines ?? [];
  return lines.some(({ line }) => line === "game") ? { type: "link-two-homes", homes: [state.book, from] } : null;
}

function standingCutover({ state }: BookTakingIn, { report }: VerifiedRecord, player: PlayerId): Day | undefined {
  const now = state();
  const records = now.records.get(personOf(now, player) ?? player);
  return records?.find(({ from }) => from === report.book)?.cutover;
}

interface Parts {
  /** Here already, and all in the record. */
  readonly used: readonly EntryId[];
  readonly fresh: readonly Draft[];
  readonly known: number;
}

function partsFor(book: BookTakingIn, { report, texts }: VerifiedRecord): Result<Parts, TakingFault> {
  const keys = keysOf(texts);
  const missing = new Map<EntryId, string>();
  const wanted = new Set<EntryId>();
  for (const jws of texts) {
    const id = idOf(jws);
    if (jws.length > ENTRY_AT_MOST) return fail({ type: "taking-entry-too-long", entry: id });
    wanted.add(id);
    missing.set(id, jws);
  }
  const used: EntryId[] = [];
  for (const { entry } of book.counted()) {
    if (entry.kind !== "record-part" || entry.body.from !== report.book) continue;
    const inside = entry.body.entries.map(idOf);
    if (!inside.every((id) => wanted.has(id)) || !inside.some((id) => missing.has(id))) continue;
    used.push(entry.id);
    for (const id of inside) missing.delete(id);
  }
  const fresh = inPieces([...missing.values()]).map((entries): Draft => {
    const signed = [...new Set(entries.map(authorOf))].flatMap((author) => keys.get(author) ?? []);
    return { kind: "record-part", body: { from: report.book, keys: signed, entries } };
  });
  if (used.length + fresh.length > PARTS_AT_MOST)
    return fail({ type: "taking-too-long", parts: used.length + fresh.length, most: PARTS_AT_MOST });
  return ok({ used, fresh, known: texts.length - missing.size });
}

function inPieces(texts: readonly string[]): string[][] {
  const pieces: string[][] = [];
  let left = 0;
  for (const text of texts) {
    const last = pieces.at(-1);
    if (last === undefined || text.length > left) pieces.push([text]);
    else last.push(text);
    left = (last === pieces.at(-1) ? left : PART) - text.length;
  }
  return pieces;
}

function vouchedFor({ report, manifest, texts }: VerifiedRecord, player: PlayerId) {
  const key = keysOf(texts).get(report.exporter.key) as PublicKey;
  return { player, from: report.book, entries: report.entries, digest: report.digest, key, manifest };
}

function isTakenAlready(book: BookTakingIn, { report }: VerifiedRecord, player: PlayerId, cutover: Day): boolean {
  const state = book.state();
  const record = state.records.get(personOf(state, player) ?? player)?.find(({ from }) => from === report.book);
  return (
    record?.cutover === cutover && record.takings.some(({ complete, digest }) => complete && digest === report.digest)
  );
}

/** What the old club has of the player's games from the cut-over on: results of a visitor there. */
function laterReports(book: BookTakingIn, record: VerifiedRecord, player: PlayerId, cutover: Day): Draft[] {
  const copied = new Set<EntryId>();
  for (const { entry } of book.counted()) copied.add(entry.id);
  const keys = keysOf(record.texts);
  const wanted = new Set<EntryId>();
  for (const { reports } of record.state.matches.values())
    for (const { entry, facts } of reports)
      if (facts.date >= cutover && facts.sides.flat().some((seat) => seat.player === player) && !copied.has(entry))
        wanted.add(entry);
  return record.texts.flatMap((jws): Draft[] => {
    const key = keys.get(authorOf(jws));
    const body = { from: record.report.book as BookId, key: key as PublicKey, entry: jws };
    return wanted.has(idOf(jws)) && key !== undefined ? [{ kind: "entry-carried", body }] : [];
  });
}

function compared(state: BookState, { report }: VerifiedRecord, player: PlayerId, cutover: Day) {
  const card = state.cards.get(personOf(state, player) ?? player) ?? null;
  const before = (one: Pick<Card, "lines"> | null | undefined): string =>
    canonicalText((one?.lines ?? []).filter(({ date }) => date < cutover));
  return { card, same: before(card) === before(report.cards[0]) };
}

function decoded(jws: string) {
  const entry = decodeEntry(jws);
  if (!entry.ok) throw new Error(`a verified entry does not decode: ${entry.fault.type}`);
  return entry.value;
}

const idOf = (jws: string): EntryId => decoded(jws).id;
const authorOf = (jws: string) => decoded(jws).author;

function keysOf(texts: readonly string[]): ReadonlyMap<string, PublicKey> {
  const stated = texts.map(decoded).flatMap((entry) => (entry.understood ? keysIn(entry) : []));
  return new Map(stated.map((key) => [keyIdOf(key), key]));
}
