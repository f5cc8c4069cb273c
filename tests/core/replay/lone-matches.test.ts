/** A match told by one report keeps no list of its reports, whatever becomes of it and of its report. */
import type { Ledger } from "@sward/core";
import { canonicalText } from "@sward/core";
import { expect, test } from "vitest";
import type { Written } from "../../support/cast.ts";
import { clubs, played } from "../../support/cast.ts";

const game = played("2026-05-01", "ada 7", "ben 9", "7-4");
const other = played("2026-05-01", "ada 7", "ben 9", "7-5");

type Club = ReturnType<typeof clubs>["north"];

/** After each of the steps, what the ledger that was kept up says and what one read from nothing says. */
function follow(stepsOf: (north: Club) => readonly (() => unknown)[]) {
  const { north } = clubs("north");
  const kept = north.ledger(north.written);
  const seen: string[][] = [];
  for (const step of stepsOf(north)) {
    step();
    kept.add(north.written);
    const fresh = north.ledger(north.written);
    expect(canonicalText(told(kept))).toBe(canonicalText(told(fresh)));
    seen.push(
      told(kept).map(({ status, reports, facts }) => `${facts?.date ?? "no day"} ${status} by ${reports.length}`),
    );
  }
  return seen;
}

const told = (ledger: Ledger) => [...ledger.state().matches.values()];

test("RP1 RP2 a report that is taken back takes its match along, and a second one is alone in its place", () => {
  let first: Written;
  const seen = follow((north) => [
    () => {
      first = north.recorder.reports(game);
    },
    () => north.recorder.withdraws(first),
    () => north.handicapper.reports(game),
    () => north.recorder.reports(other),
  ]);
  expect(seen).toEqual([["2026-05-01 one-report by 1"], [], ["2026-05-01 one-report by 1"], ["no day held by 2"]]);
});

test("RP1 RP2 one of two reports is taken back, and the other tells the match alone; then both do again", () => {
  let second: Written;
  const seen = follow((north) => [
    () => north.recorder.reports(game),
    () => {
      second = north.handicapper.reports(other);
    },
    () => north.handicapper.withdraws(second),
    () => north.handicapper.reports(game),
  ]);
  expect(seen).toEqual([
    ["2026-05-01 one-report by 1"],
    ["no day held by 2"],
    ["2026-05-01 one-report by 1"],
    ["2026-05-01 confirmed by 2"],
  ]);
});

test("RP1 RP2 a correction leaves nothing under the old key, and taken back it brings back what was there", () => {
  const later = played("2026-05-02", "ada 7", "ben 9", "7-4");
  let first: Written;
  let correction: Written;
  const seen = follow((north) => [
    () => {
      first = north.recorder.reports(game);
    },
    () => {
      correction = north.recorder.reports(later, first);
    },
    () => north.recorder.withdraws(correction),
  ]);
  expect(seen).toEqual([
    ["2026-05-01 one-report by 1"],
    ["2026-05-02 one-report by 1"],
    ["2026-05-01 one-report by 1"],
  ]);
});
