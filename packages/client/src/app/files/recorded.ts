/** The matches of the record by who played whom on which day: made in one pass, so that a line finds its match without a search. */
import type { BookState, MatchFacts, MatchKey, MatchReported } from "@sward/core";
import { byCodeUnits, byNumber, matchFacts } from "@sward/core";

export interface RecordedMatch {
  readonly key: MatchKey;
  readonly n: number;
  /** A league match has its number from the fixture, which takes none from the day's others. */
  readonly ofLeague: boolean;
  /** What was said of it, the account that counts first. */
  readonly accounts: readonly [MatchFacts, ...MatchFacts[]];
}

export type RecordIndex = ReadonlyMap<string, readonly RecordedMatch[]>;

/** The identity of a match without its number: day, play, length and who is on each side. */
export function pairingKey({
  date,
  play,
  format,
  sides,
}: Pick<MatchFacts, "date" | "play" | "format" | "sides">): string {
  const names = sides.map((side) =>
    side
      .map(({ player }) => player)
      .sort(byCodeUnits)
      .join("+"),
  );
  return `${date}|${play}|${format}|${names.sort(byCodeUnits).join("v")}`;
}

export const factsOf = (body: MatchReported): MatchFacts => matchFacts(body, (id) => id);

export function indexRecord({ matches }: Pick<BookState, "matches">): RecordIndex {
  const index = new Map<string, RecordedMatch[]>();
  for (const { key, n, slot, facts, reports } of matches.values()) {
    const told = [...(facts === null ? [] : [facts]), ...reports.map((report) => report.facts)];
    for (const pairing of new Set(told.map(pairingKey))) {
      const [first, ...more] = told.filter((one) => pairingKey(one) === pairing);
      if (first === undefined) continue;
      const held = index.get(pairing) ?? [];
      held.push({ key, n, ofLeague: slot !== null, accounts: [first, ...more] });
      index.set(pairing, held);
    }
  }
  for (const held of index.values()) held.sort((a, b) => byNumber(a.n, b.n) || byCodeUnits(a.key, b.key));
  return index;
}
