import type { LeagueRules } from "@sward/core";
import { parseLeagueRules, writtenLeagueRules } from "@sward/core";
import { expect, test } from "vitest";
import type { RulesForm } from "../../../../packages/client/src/app/league/rules-form.ts";
import { fieldAt, formOfRules, rulesOfForm } from "../../../../packages/client/src/app/league/rules-form.ts";
import { rulesTold } from "../../../../packages/client/src/app/words/league-rules.ts";

const written = writtenLeagueRules();
const [first] = written as [LeagueRules];
const changed = (part: Partial<RulesForm>, base: LeagueRules = first) =>
  rulesOfForm({ ...formOfRules(base), ...part }, base);

test("every rule file that comes with the program goes into the form and comes out of it unchanged", () => {
  expect(written.length).toBeGreaterThanOrEqual(3);
  for (const rules of written) expect(rulesOfForm(formOfRules(rules), rules)).toEqual({ ok: true, value: rules });
});

test("what is changed is in the rules, which are the league's own from then on and keep their sources", () => {
  const result = changed({
    players: "5",
    most: "12",
    deadline: "",
    reservesInSeason: "3",
    slots: "1+2 v 2+1, level, 7, best of 3\n\n5 v 5, handicap, 19",
  });
  if (!result.ok) throw new Error(JSON.stringify(result.fault));
  expect(result.value).toMatchObject({
    id: `own-${first.id}`,
    sources: first.sources,
    team: { players: 5, reserves: { inSeason: 3 } },
    handicaps: { most: 12 },
    deadline: null,
    slots: [
      { home: [1, 2], away: [2, 1], play: "level", format: 7, bestOf: 3 },
      { home: [5], away: [5], play: "handicap", format: 19, bestOf: 1 },
    ],
  });
  expect(parseLeagueRules(result.value).ok).toBe(true);
  const again = changed({ title: "Ours" }, result.value);
  expect(again.ok && again.value.id).toBe(`own-${first.id}`);
});

test("what cannot be is refused with the place in the form", () => {
  const fault = (part: Partial<RulesForm>) => {
    const result = changed(part);
    if (result.ok) throw new Error("it was taken");
    return result.fault;
  };
  expect(fault({ slots: "1 v 2, level, 13\n1 against 2" })).toEqual({
    type: "rules-form-line",
    line: 2,
    text: "1 against 2",
  });
  expect(fault({ slots: "1 v 7, level, 13" })).toMatchObject({ type: "league-rules-no-such-seat", slot: 1, seat: 7 });
  expect(fault({ least: "9", most: "4" })).toMatchObject({ type: "league-rules-limits" });
  expect(fault({ tieBreaks: ["games-won", "games-won"] })).toMatchObject({ type: "league-rules-twice" });
  const at = (part: Partial<RulesForm>) => {
    const found = fault(part);
    return found.type === "league-rules-form" ? fieldAt(found.at) : found.type;
  };
  const { points } = formOfRules(first);
  expect(at({ players: "four" })).toBe("players");
  expect(at({ players: "" })).toBe("players");
  expect(at({ title: "  " })).toBe("title");
  expect(at({ most: "1000" })).toBe("most");
  expect(at({ slots: "1 v 1, level, 14" })).toBe("slots");
  expect(at({ slots: "" })).toBe("slots");
  expect(at({ points: { ...points, win: "two" } })).toBe("points.win");
  expect(at({ deadline: "31-12" })).toBe("deadline");
  expect(at({ reportWithin: "-1" })).toBe("reportWithin");
  expect(at({ bonus: [{ when: "games-won-at-least", count: "x", points: "1" }] })).toBe("bonus.0");
  expect(at({ score: ["", "", ""] })).toBe("score");
});

test("the rules are told in full: what differs between two files is told differently", () => {
  const told = (rules: LeagueRules) => rulesTold(rules).map(({ about, lines }) => [about, ...lines].join(" "));
  expect(told(first)).toContain("Points in the table 2 points for a win, 1 for a draw, 0 for a defeat.");
  expect(told(first).find((line) => line.startsWith("The matches"))).toBe(
    "The matches of a fixture Matches 1 to 16, singles, handicap play, 13 points: 1 v 1; 2 v 2; 3 v 3; 4 v 4; 1 v 2; 2 v 1; 3 v 4; 4 v 3; 1 v 3; 3 v 1; 2 v 4; 4 v 2; 1 v 4; 4 v 1; 2 v 3; 3 v 2. " +
      "Matches 17 to 18, doubles, handicap play, 13 points: 1 and 2 v 1 and 2; 3 and 4 v 3 and 4.",
  );
  const base = told(first);
  /** Each change of one rule is heard in exactly one place. */
  const one: readonly Partial<RulesForm>[] = [
    { meetings: "home-and-away" },
    { players: "6" },
    { order: "by-handicap" },
    { borrowed: "2" },
    { oneClub: false },
    { reservesInFixture: "0" },
    { reservesInSeason: "1" },
    { most: "11" },
    { least: "2" },
    { totalAtLeast: "16" },
    { score: ["slots", "hoops", ""] },
    { points: { ...formOfRules(first).points, hoop: "1" } },
    { bonus: [{ when: "lost-by-games-at-most", count: "2", points: "1" }] },
    { forfeitWinner: "9" },
    { forfeitLoser: "1" },
    { forfeitGames: "all" },
    { gameForfeited: "does-not-count" },
    { some: "even-games" },
    { none: "draw" },
    { oneReport: "waits" },
    { deadline: "" },
    { reportWithin: "" },
    { tieBreaks: ["hoops-won"] },
  ];
  for (const part of one) {
    const result = changed(part);
    if (!result.ok) throw new Error(JSON.stringify(result.fault));
    const different = told(result.value).filter((line, at) => line !== base[at]);
    expect(different.length, JSON.stringify(part)).toBe(1);
  }
});
