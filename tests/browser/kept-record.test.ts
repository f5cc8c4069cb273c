/** A report with a score pad's record, corrected on the screen: what still fits stays in the record, what does not is said before saving. */
import type { MatchReported } from "@sward/core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { until } from "../support/meeting.ts";
import { before, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene, today } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

/** Gwen receives strokes of Lou; nine hoops, Gwen's four strokes at the third, the fifth and twice at the last. */
const padded: MatchReported = {
  date: before(today(), 2),
  occasion: "club-competition",
  n: 1,
  play: "handicap",
  format: 13,
  sides: [[{ player: player("gwen"), off: 16 }], [{ player: player("lou"), off: 10 }]],
  games: [
    {
      score: [7, 2],
      hoops: [0, 1, 0, 0, 1, 0, 0, 0, 0],
      taken: [3, 5, 9, 9].map((hoop) => ({ side: 0 as const, seat: 0 as const, hoop })),
    },
  ],
  given: [[4], [0]],
};

const stands = (): MatchReported | undefined => {
  const [match] = scene.matches("gwen", "lou").filter(({ reports }) => reports[0]?.facts.date === padded.date);
  for (const { entry } of scene.club.root.counted()) {
    if (entry.id === match?.reports[0]?.entry && entry.kind === "match-reported") return entry.body;
  }
  return undefined;
};

test("a corrected day keeps the pad's whole record; a corrected score keeps what fits and says what does not", async () => {
  const saved = await scene.club.root.append([{ kind: "match-reported", body: padded }]);
  expect(saved.ok).toBe(true);
  const device = await scene.open(scene.club.passes.handicapper, "Enter");
  const { page } = device;
  await until("the match is here", () => stands() !== undefined);
  const [match] = scene.matches("gwen", "lou").filter(({ reports }) => reports[0]?.facts.date === padded.date);
  await page.goto(`${page.url()}?correct=${match!.reports[0]!.entry}`);
  const note = page.getByRole("status").filter({ hasText: "The score pad's record of this match" });
  await note.getByText("All of it still fits and goes with the correction").waitFor();

  const lost = page.locator('[data-field="score-0-1"]');
  const own = await page.locator('[data-field="score-0-0"]').inputValue();
  const loser = own === "7" ? lost : page.locator('[data-field="score-0-0"]');
  await loser.fill("1");
  await note.getByText("game 1: who scored each hoop, because it comes to another score").waitFor();
  await note.getByText("game 1: 2 extra strokes taken, because the corrected game has no room for them").waitFor();
  await expectAccessible(page);
  await page.getByRole("button", { name: "Save the correction" }).click();
  await until("the correction arrives", () => stands()?.games[0]?.score.includes(1) === true);
  const corrected = stands()!;
  const side = corrected.sides[0][0]?.player === player("gwen") ? 0 : 1;
  expect(corrected.games[0]!.hoops).toBeUndefined();
  expect(corrected.games[0]!.taken).toEqual([3, 5].map((hoop) => ({ side, seat: 0, hoop })));
  expect(corrected.given?.[side]).toEqual([4]);
  expect(device.faults).toEqual([]);
});
