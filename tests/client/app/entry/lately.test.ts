/**
 * What this device entered lately is found without reading again what has not changed: whatever comes, goes or is corrected, and in
 * whatever order, it must be what a look at everything finds.
 */
import type { BookId, EntryId, KeyId, Match, MatchKey } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { enteredLately } from "../../../../packages/client/src/app/entry/lately.ts";

const SEED = 20_261_125;
const device = "here" as KeyId;
const id = "book" as BookId;

/** Of a match only what is looked at, and how often its reports were read. */
let reads = 0;
const matchOf = (n: number, version: number, ours: boolean): Match =>
  ({
    key: `match ${n}` as MatchKey,
    get reports() {
      reads += 1;
      const at = `2031-06-${String(1 + ((n * 7 + version) % 28)).padStart(2, "0")}T10:00:00Z`;
      return [{ entry: `entry ${n} ${version}` as EntryId, by: ours ? device : ("there" as KeyId), origin: id, at }];
    },
  }) as unknown as Match;

const bookOf = (matches: ReadonlyMap<MatchKey, Match>) =>
  ({ device, id, state: () => ({ matches }) }) as unknown as Parameters<typeof enteredLately>[0];

const MOST = 2;
const found = (matches: ReadonlyMap<MatchKey, Match>, session: readonly EntryId[]): readonly string[] =>
  enteredLately(bookOf(matches), session, MOST).map(({ report }) => report.entry);

test(`what is kept from the last look changes nothing (seed ${SEED})`, () => {
  const deed = fc.record({
    n: fc.nat(12),
    version: fc.nat(3),
    ours: fc.boolean(),
    gone: fc.boolean(),
    saved: fc.boolean(),
  });
  fc.assert(
    fc.property(fc.array(deed, { maxLength: 40 }), fc.array(fc.nat(12), { maxLength: 4 }), (deeds, saved) => {
      const matches = new Map<MatchKey, Match>();
      let session = saved.map((n) => `entry ${n} 0` as EntryId);
      for (const { n, version, ours, gone, saved: isSaved } of deeds) {
        if (gone) matches.delete(`match ${n}` as MatchKey);
        else matches.set(`match ${n}` as MatchKey, matchOf(n, version, ours));
        if (isSaved) session = [...session, `entry ${(n * 5) % 13} ${version}` as EntryId];
        const lately = found(matches, session);
        expect(lately).toEqual(found(new Map(matches), session));
        expect(lately).toHaveLength(Math.min(MOST, [...matches.values()].filter(isOurs).length));
      }
    }),
    { seed: SEED, numRuns: 200 },
  );
});

const isOurs = ({ reports }: Match): boolean => reports[0]?.by === device;

test("of a thousand matches one more is read, not all again; the last saved come first, then the newest", () => {
  const matches = new Map<MatchKey, Match>();
  for (let n = 0; n < 1_000; n += 1) matches.set(`match ${n}` as MatchKey, matchOf(n, 0, n % 5 === 0));
  found(matches, []);
  reads = 0;
  matches.delete("match 3" as MatchKey);
  matches.set("match 1000" as MatchKey, matchOf(1_000, 0, true));
  const lately = found(matches, ["entry 1000 0" as EntryId]);
  expect(reads).toBeLessThan(5);
  expect(lately[0]).toBe("entry 1000 0");
  const days = enteredLately(bookOf(matches), [], 5).map(({ report }) => report.at);
  expect(days).toEqual([...days].sort().reverse());
});

test("an old report that is said to have been saved since comes first, though it was not among the newest", () => {
  const matches = new Map<MatchKey, Match>();
  for (let n = 0; n < 10; n += 1) matches.set(`match ${n}` as MatchKey, matchOf(n, 0, true));
  const oldest = "entry 0 0" as EntryId;
  expect(found(matches, [])).not.toContain(oldest);
  expect(found(matches, [oldest])[0]).toBe(oldest);
  expect(found(matches, [])).not.toContain(oldest);
});
