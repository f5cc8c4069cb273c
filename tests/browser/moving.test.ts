/**
 * A player moves from one club to another: the record leaves the one as a file and comes into the other, in browsers; the card is the
 * same there, byte for byte, and goes on. What the clubs hold is read at their roots, under Node.
 */
import { readFile } from "node:fs/promises";
import { canonicalText } from "@sward/core";
import type { Page } from "playwright-core";
import { afterAll, beforeAll, expect, test } from "vitest";
import { until } from "../support/meeting.ts";
import { before, player } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, openDevice, startScene, today, toScreen } from "./at-a-desk.ts";
import type { NewClub } from "./new-club.ts";
import { foundNewClub } from "./new-club.ts";

let scene: Scene;
let millbrook: NewClub;
let there: Page;
let here: Page;

beforeAll(async () => {
  scene = await startScene();
  millbrook = await foundNewClub(scene.relay.origin, "Coldbrook Croquet Club", today());
  there = (await scene.open(scene.club.passes.reader, "Members")).page;
  here = (await openDevice(scene.browser, scene.relay.origin, millbrook.pass)).page;
});
afterAll(async () => {
  await millbrook?.root.close();
  await scene?.close();
});

const bo = player("bo");
const cardThere = (): string => canonicalText(scene.club.root.state().cards.get(bo));
const cardHere = (): string => canonicalText(millbrook.root.state().cards.get(bo) ?? null);

async function recordOf(page: Page, button: string): Promise<string> {
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "Bo Linnet" }).first().click();
  await page.getByRole("heading", { level: 1, name: "Bo Linnet" }).waitFor();
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: button, exact: true }).click(),
  ]);
  return readFile(await download.path(), "utf8");
}

async function bring(page: Page, text: string): Promise<void> {
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "A player comes from another club" }).click();
  await page.getByRole("heading", { level: 1, name: "A player from another club" }).waitFor();
  const file = { name: "record.jsonl", mimeType: "application/json", buffer: Buffer.from(text) };
  await page.getByLabel("The player's record").setInputFiles(file);
}

test("the player alone takes the record along from a device that may only look, and the card is byte-equal at the new club", async () => {
  const record = await recordOf(there, "Only give the record");
  expect(record).not.toMatch(/Linnet/);
  const before = cardThere();

  // An altered line is refused, and nothing is changed.
  const rows = record.split("\n");
  const row = rows.length - 2;
  rows[row] = rows[row]!.replace(/.(.{20})"$/, (end) => `${end[0] === "A" ? "B" : "A"}${end.slice(1)}`);
  await bring(here, rows.join("\n"));
  await here
    .getByRole("alert")
    .getByText(`Line ${rows.length - 1} has been altered`)
    .waitFor();

  await bring(here, record);
  await here.getByRole("heading", { name: "The record from Thornfield Croquet Club" }).waitFor();
  await here
    .getByText(
      /^\d+ entries\. Every signature holds, and none is missing\. Written at that club by a device that only reads,/,
    )
    .waitFor();
  await expectAccessible(here);
  await here.getByLabel("Name", { exact: true }).fill("Bo Linnet");
  await here.getByRole("button", { name: "Take the record in" }).click();
  await here.getByText("Bo Linnet has come.").waitFor();
  await here.getByText(/the card is the old club's, line by line\.$/).waitFor();
  await until("the new club's other devices have the card", () => cardHere() !== "null", 60_000);
  expect(cardHere()).toBe(before);

  await here.getByRole("link", { name: "To the card" }).click();
  await here.getByRole("heading", { name: "From another club" }).waitFor();
  await here.getByText(/are the record of Thornfield Croquet Club/).waitFor();
  await expectAccessible(here);
});

test("the same record again writes nothing; a newer one brings the old club's late result", async () => {
  const again = await recordOf(there, "Only give the record");
  const entries = millbrook.root.state().entries;
  await bring(here, again);
  await here.getByRole("button", { name: "Take the record in" }).click();
  await here.getByText(/All of it was here already; nothing was changed\./).waitFor();
  expect(millbrook.root.state().entries).toBe(entries);

  const day = before(today(), 20);
  const off = scene.club.root.state().cards.get(bo)!.handicap;
  const { length: lines } = scene.club.root.state().cards.get(bo)!.lines;
  const said = await scene.club.root.append([
    {
      kind: "match-reported",
      body: {
        date: day,
        occasion: "club-competition",
        n: 9,
        play: "handicap",
        format: 13,
        sides: [[{ player: bo, off }], [{ player: player("kit"), off: 6 }]],
        games: [{ score: [7, 5] }],
      },
    },
  ]);
  expect(said.ok).toBe(true);
  await until("the relay has it", () => scene.club.root.waiting() === 0, 60_000);
  await toScreen(there, "Members");
  // The device that gives the record has it when its card shows the line.
  await there.getByRole("link", { name: "Bo Linnet" }).first().click();
  await there.waitForFunction((count) => document.querySelectorAll(".card-line").length === count, lines + 1);
  await bring(here, await recordOf(there, "Only give the record"));
  await here.getByRole("button", { name: "Take the record in" }).click();
  await here.getByText("Bo Linnet has come.").waitFor();
  await until("the late result is on the card at the new club", () => cardHere() === cardThere(), 60_000);
});

test("a visitor's results go home as a slip, in a file or in codes; taken in twice they are taken in once", async () => {
  const vic = player("vic-at-home");
  const { root } = millbrook;
  const joined = await root.append([
    { kind: "player-joined", body: { player: vic, standing: "member" } },
    {
      kind: "handicap-set",
      body: { player: vic, handicap: 5, from: before(today(), 300), basis: "initial", reason: "first handicap" },
    },
  ]);
  expect(joined.ok).toBe(true);
  await root.roster.write(new Map([[vic, { name: "Vic Tarrant", short: "Vic T." }]]));
  await until("the relay has the member", () => root.waiting() === 0, 60_000);

  await toScreen(there, "Members");
  await there.getByRole("link", { name: "Vic Tarrant" }).first().click();
  await there.getByRole("button", { name: "Make a slip" }).click();
  await there.getByRole("img", { name: /^Code 1 of \d+/ }).waitFor();
  await expectAccessible(there);
  const [download] = await Promise.all([
    there.waitForEvent("download"),
    there.getByRole("button", { name: /file/i }).first().click(),
  ]);
  const slip = await readFile(await download.path(), "utf8");

  const take = async (): Promise<void> => {
    await toScreen(here, "Sharing");
    await here.getByRole("link", { name: "Members, results and cards as files" }).click();
    const file = { name: "slip.txt", mimeType: "text/plain", buffer: Buffer.from(slip) };
    await here.getByLabel("The slip").setInputFiles(file);
    await here.getByText(/^From Thornfield Croquet Club: \d+ results?\./).waitFor();
  };
  await take();
  await here.getByLabel("Which of the slip's players is our member?").selectOption(player("vic"));
  await here.getByRole("button", { name: "Take the results in" }).click();
  await here.getByText("Choose both.").waitFor();
  await here.getByLabel("Our member", { exact: true }).selectOption({ label: "Vic Tarrant" });
  await expectAccessible(here);
  await here.getByRole("button", { name: "Take the results in" }).click();
  await here.getByText(/\d+ results? new, 0 here already\./).waitFor();
  await until("the card has the results", () => (root.state().cards.get(vic)?.lines.length ?? 0) > 1, 60_000);
  const reports = [...root.state().matches.values()].flatMap((match) => match.reports);
  expect(new Set(reports.map(({ origin }) => origin))).toEqual(new Set([scene.club.root.id]));
  const lines = root.state().cards.get(vic)!.lines.length;

  await take();
  await here
    .getByText(/here already\)/)
    .first()
    .waitFor();
  await here.getByRole("button", { name: "Take the results in" }).click();
  await here.getByText("All of it was here already; nothing was changed.").waitFor();
  expect(root.state().cards.get(vic)!.lines).toHaveLength(lines);
});
