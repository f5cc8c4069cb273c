/** How much of the things to do is drawn before the rest. */
import { expect, test } from "vitest";
import { firstDrawn, paragraphsIn } from "../../../../packages/client/src/app/attention/first-drawn.ts";
import type { Group } from "../../../../packages/client/src/app/attention/groups.ts";
import { groupMatters } from "../../../../packages/client/src/app/attention/groups.ts";
import { clubs, played } from "../../../support/cast.ts";

const TODAY = "2026-06-30";

/** Ada's card has a signature that is no longer right, with many changes after it; five others have one change each. */
function todo(): readonly Group[] {
  const { north } = clubs("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  const others = ["cy", "dot", "eve", "fay", "gus"];
  for (const name of others) north.member(name, 7, { index: 1390 });
  north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4"));
  north.handicapper.signs("ada", "2026-05-02");
  for (let n = 0; n < 40; n += 1) north.recorder.reports(played("2026-05-03", "ada 6", "ben 9", "7-4", { n: n + 1 }));
  for (const name of others) north.recorder.reports(played("2026-05-04", `${name} 7`, "ben 9", "7-4"));
  north.recorder.reports(played("2026-05-01", "ada 7", "ben 9", "3-7"));
  const seen = { id: north.id, device: north.handicapper.id, state: () => north.state() };
  return groupMatters({ club: seen, leagues: [] }, TODAY);
}

const allOf = (groups: readonly Group[]): number => groups.reduce((sum, { matters }) => sum + matters.length, 0);
const none = (): boolean => false;
const count = ({ groups }: ReturnType<typeof firstDrawn>): number =>
  groups.flatMap(({ drawn }) => drawn).reduce((sum, { matter, most }) => sum + Math.min(most, paragraphsIn(matter)), 0);

test("as many paragraphs as reach past the lower edge are drawn, of a matter longer than the screen only its first", () => {
  const groups = todo();
  expect(groups[0]?.name).toBe("looked-at-again");
  const long = paragraphsIn(groups[0]!.matters[0]!);
  expect(long).toBeGreaterThan(30);
  const first = firstDrawn(groups, 800, none);
  expect(first.isAll).toBe(false);
  expect(first.groups.map(({ group, drawn }) => [group.name, drawn.map(({ most }) => most)])).toEqual([
    ["looked-at-again", [27]],
  ]);
  // Twice the height, no more than what that holds.
  expect(count(firstDrawn(groups, 1_600, none))).toBeLessThanOrEqual(54);
});

test("what is shorter than the screen is drawn whole, and what follows it as far as there is room", () => {
  const groups = todo().flatMap((group): Group[] =>
    group.name !== "changes" ? [] : [{ ...group, matters: group.matters.filter((one) => paragraphsIn(one) === 1) }],
  );
  const first = firstDrawn(groups, 500, none);
  const drawn = first.groups.flatMap((one) => one.drawn);
  expect(drawn.length).toBeGreaterThan(2);
  expect(drawn.length).toBeLessThan(allOf(groups));
  expect(drawn.slice(0, -1).every(({ most }) => most === Number.POSITIVE_INFINITY)).toBe(true);
});

test("nothing is left out of a list that fits, of one that is drawn whatever its height, or of what was there before", () => {
  const groups = todo();
  const all = allOf(groups);
  for (const [height, isThere] of [
    [Number.POSITIVE_INFINITY, none],
    [100_000, none],
    [100, () => true],
  ] as const) {
    const first = firstDrawn(groups, height, isThere);
    expect(first.isAll).toBe(true);
    expect(first.groups.flatMap(({ drawn }) => drawn)).toHaveLength(all);
    expect(first.groups.flatMap(({ drawn }) => drawn).every(({ most }) => most === Number.POSITIVE_INFINITY)).toBe(
      true,
    );
  }
});

test("a matter that is new above others that are there leaves those where they are", () => {
  const groups = todo();
  const first = firstDrawn(groups, 800, (group) => group.name !== "looked-at-again");
  expect(first.isAll).toBe(false);
  expect(first.groups.map(({ group }) => group.name)).toEqual(groups.map(({ name }) => name));
  expect(first.groups[0]?.drawn[0]?.most).toBe(27);
});
