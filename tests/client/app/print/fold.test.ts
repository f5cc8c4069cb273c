/** What goes on which page of the folding card. */
import type { Card, CardLine, GameLine } from "@sward/core";
import { expect, test } from "vitest";
import type { PlacedLine } from "../../../../packages/client/src/app/card/card-groups.ts";
import { halves, planFold } from "../../../../packages/client/src/app/card/fold-plan.ts";
import { inForceSince } from "../../../../packages/client/src/app/print/handicap-list.ts";

const game = (date: string, index: number, more: Partial<GameLine> = {}): GameLine =>
  ({ line: "game", date, index, handicap: 7, moved: null, points: 10, partner: null, ...more }) as GameLine;
const set = (date: string, handicap: number, from: number | null): CardLine =>
  ({ line: "set", date, handicap, index: 1350, moved: { from, to: handicap }, reason: "start", why: "x" }) as CardLine;
const cardOf = (lines: readonly CardLine[]): Card =>
  ({ player: "p", handicap: 7, index: 1350, lines, signatures: [], unsigned: [] }) as unknown as Card;
const short = (): string => "Somebody";
const today = "2026-08-01";

test("a short card is one sheet: its lines on the left, room for a pencil on both pages", () => {
  const card = cardOf([set("2026-04-01", 7, null), game("2026-05-01", 1360), game("2026-05-02", 1370)]);
  const plan = planFold(card, "all", today, short);
  expect(plan.panels.map(({ lines, blank }) => [lines.length, blank])).toEqual([
    [3, 20],
    [0, 23],
  ]);
  expect(plan.changes.map(({ to }) => to)).toEqual([7]);
  expect(plan.earlierLines).toBe(0);
});

test("a long card goes on over as many pages as it needs, an even number, each line on one of them and in order", () => {
  for (const many of [22, 23, 24, 45, 46, 47, 92, 93, 200]) {
    const lines = Array.from({ length: many }, (_, at) => game("2026-05-01", 1350 + at));
    const { panels } = planFold(cardOf(lines), "all", today, short);
    expect(panels.length % 2).toBe(0);
    expect(panels.flatMap((panel) => panel.lines.map(({ place }: PlacedLine) => place))).toEqual(
      lines.map((_, at) => at),
    );
    for (const { lines: shown, blank } of panels) expect(shown.length + blank).toBeLessThanOrEqual(23);
    expect(panels.length).toBe(2 * Math.ceil(Math.ceil(many / 23) / 2));
  }
});

test("a line that takes more text takes more room, so that fewer fit", () => {
  expect([halves("", 28), halves("a".repeat(56), 28), halves("a".repeat(57), 28), halves("a".repeat(113), 28)]).toEqual(
    [2, 2, 3, 5],
  );
  const lines = Array.from({ length: 20 }, () => game("2026-05-01", 1360));
  const { panels } = planFold(cardOf(lines), "all", today, () => "a".repeat(113));
  expect(panels.map((panel) => panel.lines.length)).toEqual([7, 7, 6, 0]);
});

test("of twelve months only: what lies before is counted, not shown", () => {
  const card = cardOf([set("2024-04-01", 7, null), game("2025-05-01", 1360), game("2026-05-01", 1370)]);
  const plan = planFold(card, "year", today, short);
  expect(plan.panels[0]?.lines.map(({ place }) => place)).toEqual([2]);
  expect(plan.earlierLines).toBe(2);
});

test("the front has the newest changes, oldest of them first, and always room for two by hand", () => {
  const moved = (at: number) => ({ from: at % 2 === 0 ? 7 : 8, to: at % 2 === 0 ? 8 : 7, trigger: 1300, after: null });
  const lines = Array.from({ length: 30 }, (_, at) =>
    game(`2026-05-${String(at + 1).padStart(2, "0")}`, at, { moved: moved(at) }),
  );
  const plan = planFold(cardOf(lines), "all", today, short);
  expect(plan.changes.map(({ place }) => place)).toEqual([
    14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29,
  ]);
  expect(plan.earlierChanges).toBe(14);
  expect(plan.blankChanges).toBe(2);
});

test("a handicap is in force since the day after the span its change waited for, and a change ahead does not count yet", () => {
  const change = { from: 7, to: 6, trigger: 1400, after: "2026-07-10" } as const;
  const card = cardOf([set("2026-04-01", 7, null), game("2026-07-09", 1400, { moved: change, handicap: 6 })]);
  expect(inForceSince(card, "2026-07-10")).toBe("2026-04-01");
  expect(inForceSince(card, "2026-07-11")).toBe("2026-07-11");
  const again = cardOf([...card.lines, set("2026-07-20", 6, 6)]);
  expect(inForceSince(again, "2026-08-01")).toBe("2026-07-11");
});
