/**
 * What an entry is about, as far as one player's record has to know: which players it names, what it corrects, and what else must
 * be at hand to make sense of it. A carried entry is about what it carries, and is found by its own id and by that of what is inside.
 */
import type { Entry, EntryId, EventId, FixtureId, KnownEntry, PlayerId } from "@sward/core";
import { decodeEntry } from "@sward/core";
import { base64url } from "jose";

/** An entry of a book and its signed text. */
export interface HeldText {
  readonly entry: Entry;
  readonly jws: string;
}

export interface Item extends HeldText {
  /** What it says: the entry, or what it carries; null when this version does not understand it. */
  readonly says: KnownEntry | null;
  /** Ids it is known by. */
  readonly ids: readonly EntryId[];
}

export function itemOf({ entry, jws }: HeldText): Item {
  if (!entry.understood) return { entry, jws, says: null, ids: [entry.id] };
  if (entry.kind !== "entry-carried") return { entry, jws, says: entry, ids: [entry.id] };
  const inner = decodeEntry(entry.body.entry);
  if (!inner.ok) return { entry, jws, says: entry, ids: [entry.id] };
  const says = inner.value.understood ? inner.value : entry;
  return { entry, jws, says, ids: [entry.id, inner.value.id] };
}

/** The players an entry is about. */
export function playersIn(says: KnownEntry): readonly PlayerId[] {
  switch (says.kind) {
    case "player-joined":
    case "player-left":
    case "handicap-set":
    case "card-signed":
    case "handicap-stated":
    case "record-taken":
      return [says.body.player];
    case "player-linked":
      return [says.body.player, says.body.to];
    case "match-reported":
      return says.body.sides.flat().map(({ player }) => player);
    case "ruling-made":
      return playersOfMatch(says.body.match);
    default:
      return [];
  }
}

/** Of a match named by its day and players; a match named by its slot names none. */
function playersOfMatch(match: string): PlayerId[] {
  const sides = /^(.{22}(?:\+.{22})?)v(.{22}(?:\+.{22})?)$/.exec(match.split("|")[3] ?? "");
  return sides === null ? [] : sides.slice(1).flatMap((side) => side.split("+") as PlayerId[]);
}

/** The slot a report or a ruling is about, as a match is named by it. */
export function slotIn(says: KnownEntry): string | null {
  if (says.kind === "ruling-made") return says.body.match.startsWith("slot:") ? says.body.match : null;
  const slot = says.kind === "match-reported" ? says.body.slot : undefined;
  return slot === undefined ? null : `slot:${slot.fixture}:${slot.number}`;
}

export const eventIn = (says: KnownEntry): EventId | null =>
  says.kind === "match-reported" || says.kind === "event-opened" ? (says.body.event ?? null) : null;

export function fixtureIn(says: KnownEntry): FixtureId | null {
  if (says.kind === "fixture-set") return says.body.fixture;
  return says.kind === "match-reported" ? (says.body.slot?.fixture ?? null) : null;
}

/** The entry it replaces, takes back or rules for. */
export function correctedBy(says: KnownEntry): EntryId | null {
  if (says.kind === "entry-withdrawn") return says.body.withdraws;
  if (says.kind === "ruling-made") return says.body.accepts;
  return "replaces" in says.body ? (says.body.replaces ?? null) : null;
}

/** Whether a text that this version does not understand names one of these players somewhere. */
export function textNames(jws: string, players: ReadonlySet<PlayerId>): boolean {
  const payload = new TextDecoder().decode(base64url.decode(jws.split(".")[1] ?? ""));
  return [...players].some((player) => payload.includes(player));
}
