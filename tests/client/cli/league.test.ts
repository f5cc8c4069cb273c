import { findLeagueRules, writtenLeagueRules } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import type { SignedLeague } from "../league/signed-league.ts";
import { leagueRules, signedLeague } from "../league/signed-league.ts";
import { playedClub } from "../record/signed-club.ts";
import { answerOf, refusalOf, sward } from "./running.ts";

let league: SignedLeague;
/** As each of three devices has the league, before they met again. */
let files: Readonly<Record<"ash" | "birch" | "cedar" | "all", string>>;

beforeAll(async () => {
  league = await signedLeague();
  // Ash and Birch each report their own meeting; Cedar reports its two, one of them with a slot left out.
  for (const [slot, score] of [
    [1, [7, 4]],
    [2, [6, 7]],
    [3, [7, 1]],
  ] as const) {
    await league.reports("Ash", "Ash-Birch", slot, score);
    await league.reports("Birch", "Ash-Birch", slot, score);
    await league.reports("Cedar", "Cedar-Ash", slot, [7, 2]);
    if (slot < 3) await league.reports("Cedar", "Birch-Cedar", slot, [7, 5]);
  }
  const [ash, birch, cedar] = [await league.record("Ash"), await league.record("Birch"), await league.record("Cedar")];
  await league.meet();
  files = { ash, birch, cedar, all: await league.record("root") };
});

const paths = () => ({
  "ash.jsonl": files.ash,
  "birch.jsonl": files.birch,
  "cedar.jsonl": files.cedar,
  "all.jsonl": files.all,
});

test("league table puts records of several clubs together, and prints what one record of everything prints", async () => {
  const whole = await sward("league table all.jsonl --on 2026-05-20 --json", paths());
  expect(whole).toMatchObject({ code: 0, err: "" });
  for (const order of [
    "ash.jsonl birch.jsonl cedar.jsonl",
    "cedar.jsonl ash.jsonl",
    "all.jsonl cedar.jsonl all.jsonl",
  ]) {
    const together = await sward(`league table ${order} --on 2026-05-20 --json`, paths());
    expect(together.out, order).toBe(whole.out);
  }
  const alone = await sward("league table birch.jsonl --on 2026-05-20 --json", paths());
  expect(alone.out).not.toBe(whole.out);
});

test("league table shows places, results, and what is still out", async () => {
  const { out } = await sward("league table all.jsonl --on 2026-05-20", paths());
  expect(out).toContain(`Hedgerow League, book ${league.book}`);
  expect(out).toContain(`Rules: ${leagueRules.title}`);
  const lines = out.split("\n");
  const rows = lines.filter((line) => /^ *\d=? {2}/.test(line)).map((line) => line.trim().split(/ {2,}/));
  expect(rows).toEqual([
    ["1", "Cedar", "1", "1", "0", "0", "3-0", "21-6", "2"],
    ["2", "Ash", "2", "1", "0", "1", "2-4", "26-33", "2"],
    ["3", "Birch", "1", "0", "0", "1", "1-2", "12-20", "0"],
  ]);
  expect(out).toContain("Cedar and Ash are level; by points in the fixtures between them: Cedar 2, Ash 0.");
  expect(lines).toContain("2026-05-01  Ash beat Birch 2-1 in games");
  expect(lines).toContain("2026-05-02  Cedar beat Ash 3-0 in games");
  expect(lines).toContain("2026-05-03  Birch v Cedar: not all in, so far 2-0");
  expect(out).toContain("committee always prevail");
  const late = await sward("league table all.jsonl --on 2026-10-01", paths());
  expect(late.out).toContain("2026-05-03  Birch v Cedar: not all in, so far 2-0 (overdue)");
});

test("league table refuses what is no whole record of one league, with the file", async () => {
  const club = await playedClub();
  const other = await signedLeague(90);
  const more = { ...paths(), "club.jsonl": await club.record(null), "other.jsonl": await other.record("root") };
  expect(await refusalOf("league table club.jsonl", more)).toMatchObject({
    at: "club.jsonl",
    fault: { type: "league-record-wanted", as: "club", ofPlayer: false },
  });
  expect(await refusalOf("league table all.jsonl other.jsonl", more)).toMatchObject({
    at: "other.jsonl",
    fault: { type: "league-records-differ", book: other.book, first: league.book },
  });
  const lines = files.all.split("\n");
  const altered = [...lines.slice(0, 5), lines[5]!.replace(/.(.{4})$/, "A$1"), ...lines.slice(6)].join("\n");
  expect(await refusalOf("league table altered.jsonl", { "altered.jsonl": altered })).toMatchObject({
    at: "altered.jsonl",
  });
  expect(await refusalOf("league table none.jsonl", more)).toMatchObject({ fault: { type: "file-not-read" } });
  expect(await refusalOf("league table all.jsonl --on yesterday", more)).toMatchObject({
    at: "--on",
    fault: { type: "not-a-day", given: "yesterday" },
  });
  expect(await refusalOf("league table", more)).toMatchObject({ fault: { type: "command-line" } });
});

test("league rules lists the files and prints one, which league check takes", async () => {
  const listed = (await answerOf("league rules")) as { rules: { id: string }[] };
  expect(listed.rules.map(({ id }) => id)).toEqual(writtenLeagueRules().map(({ id }) => id));
  const { out } = await sward("league rules turn-up");
  expect(JSON.parse(out)).toEqual(findLeagueRules("turn-up"));
  expect(await answerOf("league check ours.json", { "ours.json": out })).toEqual({
    id: "turn-up",
    singles: 8,
    doubles: 2,
  });
  expect((await sward("league check ours.json", { "ours.json": out })).out).toContain("8 singles and 2 doubles");
  expect(await refusalOf("league rules ours")).toMatchObject({
    fault: { type: "league-rules-unknown", rules: "ours" },
  });
});

test("league check says what is wrong with a file, and where", async () => {
  const rules = { ...findLeagueRules("turn-up"), meetings: "thrice" };
  const files = { "a.json": JSON.stringify(rules), "b.json": "{" };
  expect(await refusalOf("league check a.json", files)).toMatchObject({
    at: "a.json",
    fault: { type: "league-rules-form", at: "meetings" },
  });
  expect(await refusalOf("league check b.json", files)).toMatchObject({ fault: { type: "league-rules-form", at: "" } });
});

test("league rounds prints who meets whom, with the byes", async () => {
  expect((await sward("league rounds Ash Birch Cedar")).out).toBe(
    "Round 1: Birch v Cedar, bye Ash\nRound 2: Ash v Birch, bye Cedar\nRound 3: Cedar v Ash, bye Birch\n",
  );
  const both = (await answerOf("league rounds Ash Birch --meet home-and-away")) as { rounds: unknown[] };
  expect(both.rounds).toEqual([
    { round: 1, meetings: [{ home: "Ash", away: "Birch" }], bye: null },
    { round: 2, meetings: [{ home: "Birch", away: "Ash" }], bye: null },
  ]);
  expect((await sward("league rounds Ash")).out).toBe("One club meets nobody.\n");
  expect(await refusalOf("league rounds Ash Birch --meet often")).toMatchObject({ fault: { type: "command-line" } });
});

test("league and each of its commands has help with an example", async () => {
  expect((await sward("league --help")).out).toContain("table");
  for (const name of ["table", "rules", "check", "rounds"]) {
    const { out, code } = await sward(`league ${name} --help`);
    expect({ code, hasExample: /Examples?:\n {2}sward league/.test(out) }, name).toEqual({ code: 0, hasExample: true });
  }
});
