import { gapsOf, ruleSets } from "@sward/core";
import { expect, test } from "vitest";
import { answerOf, refusalOf, sward } from "./running.ts";

test("rules lists the rule sets", async () => {
  expect(await answerOf("rules")).toEqual({ rules: ruleSets.map(({ id, title, body }) => ({ id, title, body })) });
  const { out } = await sward("rules");
  for (const { id, title, body } of ruleSets) expect(out).toMatch(new RegExp(`^${id} +${title} +${body}$`, "m"));
});

test("rules <id> --json is the whole set, rows and sources", async () => {
  for (const set of ruleSets) expect(await answerOf(`rules ${set.id}`)).toEqual(set);
});

test("rules <id> for people: every row with its source, every source with its address, every gap", async () => {
  for (const set of ruleSets) {
    const { out } = await sward(`rules ${set.id}`);
    for (const { handicap, trigger, standing } of set.triggers) {
      expect(out).toMatch(new RegExp(`^ +${handicap} +${trigger} +${standing} \\[ce-automatic\\]$`, "m"));
    }
    for (const { title, url } of Object.values(set.sources)) {
      expect(out).toContain(title);
      expect(out).toContain(url);
    }
    expect(gapsOf(set).length).toBeGreaterThan(5);
    for (const gap of gapsOf(set)) expect(out).toContain(gap);
    for (const row of set.assessment) expect(out).toContain(String(row.index));
    expect(out).toContain("committee always prevail");
  }
});

test("rules <id> says in words what the settings are", async () => {
  const england = (await sward("rules england-2016")).out;
  expect(england).toContain("after an event of at most 4 days, or of kind calendar-event; otherwise after the day");
  expect(england).toMatch(/handicap doubles +none +published/);
  expect(england).toMatch(/level singles +20 \/ \(1 \+ 10\^\(D\/500\)\), 1 to 19 +common practice/);
  expect(england).toContain("one partner of a side may round up a half");
  const nsw = (await sward("rules new-south-wales-2022")).out;
  expect(nsw).toContain("at once, after the game");
  expect(nsw).toMatch(/handicap doubles +5 each way/);
  expect(nsw).toMatch(/level doubles +table not read: none/);
  expect((await sward("rules england-2016-like-pairing")).out).toContain("lower with lower, higher with higher");
});

test("rules refuses an id there is not", async () => {
  expect(await refusalOf("rules middlesex")).toMatchObject({
    fault: { type: "rules-unknown", rules: "middlesex", known: ruleSets.map(({ id }) => id) },
  });
});
