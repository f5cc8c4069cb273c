/** A ledger holds a report in a smaller form than it came in: nobody who reads it can tell. */
import type { BookId, EntryId, EntryOf, KeyId, MatchReported } from "@sward/core";
import { canonicalText, decodeEntry, digestOf, signingInput } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { checkMatch, matchFacts, matchKey } from "../../../packages/core/src/matches/identity.ts";
import {
  canBe,
  factsOf,
  KeptReport,
  keepReport,
  keyOfReport,
  moreOf,
} from "../../../packages/core/src/matches/kept-report.ts";
import { createSharing } from "../../../packages/core/src/matches/sharing.ts";
import { clubs, played } from "../../support/cast.ts";
import { reportedBodies } from "../../support/reported.ts";

const SEED = 20261126;

const book = digestOf("a book") as string as BookId;
const author = digestOf("a device") as string as KeyId;
const itself = <T>(id: T): T => id;

const oneOf = <T>(...values: readonly T[]) => fc.constantFrom(...values);
const part = (most: number) => fc.integer({ min: 0, max: most }).map((n) => String(n).padStart(2, "0"));
/** Times that clocks show, and others that the form lets through. */
const moments = fc
  .tuple(
    oneOf("0000", "1999", "2000", "2026", "2999", "3000", "9999"),
    part(13),
    part(32),
    part(24),
    part(60),
    part(61),
  )
  .map(([year, month, day, ...time]) => `${year}-${month}-${day}T${time.join(":")}Z`);

function decoded(body: MatchReported, at: string, prev: EntryId | null): EntryOf<"match-reported"> {
  const payload = { v: 1, book, seq: prev === null ? 0 : 1, prev, at, kind: "match-reported", body: { ...body } };
  const entry = decodeEntry(`${signingInput(author, payload)}.${"A".repeat(86)}`);
  if (!entry.ok) throw new Error(entry.fault.type);
  return entry.value as EntryOf<"match-reported">;
}

test(`LE13 a report is what it was, member for member, in its small form (seed ${SEED})`, () => {
  const sharing = createSharing();
  let [small, real] = [0, 0];
  fc.assert(
    fc.property(reportedBodies, moments, oneOf(null, digestOf("before")), (body, at, prev) => {
      const entry = decoded(body, at, prev);
      const kept = keepReport(entry, prev, sharing);
      if (kept instanceof KeptReport) small += 1;
      const { id, seq, understood, kind } = kept;
      expect({ id, author: kept.author, book: kept.book, seq, prev: kept.prev, at: kept.at }).toEqual({
        ...{ id: entry.id, author, book, seq: entry.seq, prev, at },
      });
      expect({ understood, kind, body: kept.body }).toEqual({ understood: true, kind: "match-reported", body });
      expect(canonicalText(kept)).toBe(canonicalText(entry));
      expect(factsOf(kept, itself)).toEqual(matchFacts(body, itself));
      const { start, event: of, slot } = moreOf(kept);
      expect({ start, of, slot }).toEqual({ start: body.start, of: body.event, slot: body.slot });
      expect(keyOfReport(kept, itself)).toBe(matchKey(body, itself));
      expect(canBe(kept)).toBe(checkMatch(body) === null);
      if (canBe(kept)) real += 1;
    }),
    { seed: SEED, numRuns: 1_000 },
  );
  expect(small).toBe(1_000);
  expect(Math.min(real, small - real)).toBeGreaterThan(10);
});

test("LE13 what this version does not know of a body stays with it", () => {
  const body = played("2026-05-01", "ada 7", "ben 9", "7-4");
  const [game] = body.games;
  const odd = [
    { ...body, weather: "wet" },
    { ...body, games: [{ ...game, lawn: 2 }] },
    { ...body, sides: [[{ ...body.sides[0][0], hat: "red" }], body.sides[1]] },
  ];
  for (const one of odd) {
    const entry = { ...decoded(body, "2026-05-01T10:00:00Z", null), body: one as MatchReported };
    expect(keepReport(entry, null, createSharing()).body).toEqual(one);
  }
});

test("LE13 two reports that say the same share what they say, and a ledger gives both back as they came", () => {
  const { north } = clubs("north");
  const one = north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const two = north.handicapper.reports(played("2026-05-02", "ben 9", "ada 7", "4-7"));
  const ledger = north.ledger(north.written);
  const [first, second] = [one, two].map(({ id }) => ledger.entry(id));
  if (!(first instanceof KeptReport && second instanceof KeptReport))
    throw new Error("a report is held in its small form");
  expect(second.facts.sides[0]).toBe(first.facts.sides[0]);
  expect(second.facts.sides[1]).toBe(first.facts.sides[1]);
  expect(second.facts.sides).toBe(first.facts.sides);
  expect(second.facts.games).toBe(first.facts.games);
  for (const { id, entry } of north.written) expect(canonicalText(ledger.entry(id))).toBe(canonicalText(entry));
});

test("LE13 a match that one report tells reads as one that several do", () => {
  const { north } = clubs("north");
  const report = north.recorder.reports({ ...played("2026-05-01", "ada 7", "ben 9", "7-4"), start: "10:30" });
  const lone = [...north.state().matches.values()][0];
  const facts = matchFacts(played("2026-05-01", "ada 7", "ben 9", "7-4"), itself);
  const { id: entry, entry: said } = report;
  expect(JSON.parse(canonicalText(lone))).toEqual({
    key: lone?.key,
    status: "one-report",
    facts,
    event: null,
    slot: null,
    n: 1,
    start: "10:30",
    reports: [{ entry, by: north.recorder.id, origin: north.id, at: said.at, facts }],
    differs: [],
    ruling: null,
  });
  north.handicapper.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
  const both = [...north.state().matches.values()][0];
  expect(Object.keys(JSON.parse(canonicalText(both)))).toEqual(Object.keys(JSON.parse(canonicalText(lone))));
  expect(both).toMatchObject({
    key: lone?.key,
    start: "10:30",
    facts,
    event: null,
    slot: null,
    n: 1,
    differs: [],
    ruling: null,
  });
});
