/**
 * Results in from a spreadsheet, as a person does it: pasted, chosen, put right line by line, saved whole, cut off in the
 * middle, taken back. With and without a signal.
 */
import { createHash } from "node:crypto";
import type { Locator, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { until } from "../support/meeting.ts";
import { before, members } from "../support/small-club.ts";
import type { Scene } from "./at-a-desk.ts";
import { inStep, startScene, today } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterEach(() => Promise.all(scene.browser.contexts().map((context) => context.setOffline(false))));
afterAll(() => scene?.close());

const title = (page: Page) => page.getByRole("heading", { level: 1, name: "Files" });
const line = (page: Page, number: number): Locator =>
  page.getByRole("listitem").filter({ hasText: new RegExp(`^Line ${number}\\b`) });
const saveButton = (page: Page) => page.getByRole("button", { name: /^Save \d+ games?$/ });
const state = () => scene.club.root.state();
const gamesHere = () => state().matches.size;

async function atFiles(pass: "handicapper" | "recorder" | "reader" = "handicapper") {
  const device = await scene.open(scene.club.passes[pass], "Enter");
  await device.page.getByRole("link", { name: "From a spreadsheet" }).click();
  await title(device.page).waitFor();
  return device;
}

const paste = async (page: Page, ...lines: string[]): Promise<void> => {
  await page.getByLabel("Paste from a spreadsheet").fill(lines.join("\n"));
  await page.getByRole("button", { name: "Read what is pasted" }).click();
  await page.getByRole("heading", { name: "The lines" }).waitFor();
};
const choose = (page: Page, name: string, lines: readonly string[]): Promise<void> =>
  page
    .getByLabel("Or choose a file")
    .setInputFiles({ name, mimeType: "text/csv", buffer: Buffer.from(lines.join("\n")) });
/** What the record says of everybody, whatever entries made it so; short, for a failure nobody can read tells nobody anything. */
const cardsNow = (): string => {
  const cards = [...state().cards.values()].map(({ player: who, lines }) => JSON.stringify([who, lines]));
  return createHash("sha256").update(cards.sort().join()).digest("hex");
};

test("an afternoon pasted without a signal: each faulty line says what is wrong, is put right in its place, and all are saved as one", async () => {
  const device = await atFiles();
  const { page } = device;
  const [games, cards] = [gamesHere(), cardsNow()];
  await page.evaluate(() => navigator.serviceWorker.ready);
  await device.goOffline();
  await paste(
    page,
    "Date\tPlayer\tOpponent\tScore\tType of game",
    `${today()}\tKit Underlea\tHal Brindle\t7-4\tclub competition`,
    `${today()}\tEdie F.\tJem Holoway\t7-5\tclub competition`,
    `${today()}\tCass Thorley\tBo Linnet\t8-3\tclub competition`,
    `2031-13-01\tGwen Ashdown\tLou Pettifer\t3-7\tclub competition`,
  );
  await line(page, 3).getByText("Nobody is called “Jem Holoway”").waitFor();
  await line(page, 4).getByText("8-3 cannot be: the winner of 13 points has 7, the loser fewer.").waitFor();
  await line(page, 5).getByText("“2031-13-01” is not a day there is.").waitFor();
  expect(await saveButton(page).isDisabled()).toBe(true);
  // A name is answered once, above; a slip is typed anew beside its line.
  await page.getByLabel("Who is “Jem Holoway”?").selectOption({ label: "Jem Holloway" });
  await line(page, 3).waitFor({ state: "detached" });
  await line(page, 4).getByLabel("Score").fill("7-3");
  await page.keyboard.press("Tab");
  await line(page, 4).waitFor({ state: "detached" });
  await line(page, 5).getByLabel("Date").fill("2031-13-02");
  await page.keyboard.press("Tab");
  await line(page, 5).getByText("“2031-13-02” is not a day there is.").waitFor();
  await line(page, 5).getByRole("button", { name: "Leave out line 5" }).click();
  await page.getByRole("button", { name: "Save 3 games" }).click();
  await page.getByText("3 games saved").first().waitFor();
  // On this device only, until there is a signal.
  expect(gamesHere()).toBe(games);
  await device.online();
  await until("the games arrive", () => gamesHere() === games + 3);
  expect(scene.games("jem").at(-1)).toMatchObject({ date: today(), score: [5, 7] });

  // Taken back as one, also after the page was loaded again.
  await page.reload();
  await inStep(page);
  await page.getByText(/^3 games pasted, saved on/).waitFor();
  await page.getByRole("button", { name: "Take the whole import back" }).click();
  await page.getByRole("dialog").getByRole("button", { name: "Take them back" }).click();
  await page.getByText("3 entries of the import taken back").first().waitFor();
  await until("all are taken back", () => gamesHere() === games);
  expect(cardsNow()).toBe(cards);
  expect(device.faults).toEqual([]);
});

/** Headings of another country, and a column that may be anything. */
const cup = [
  "Tag;Heim;Gast;Ergebnis;Runde",
  "03.02.2025;Kit Underlea;Hal Brindle;7:4;Winter Cup",
  "04.02.2025;Cass Thorley;Nobody Atall;5:7;Winter Cup",
];
const meanings = { Tag: "date", Heim: "player", Gast: "opponent", Ergebnis: "score", Runde: "event" } as const;
const chosenFor = (page: Page): Promise<Record<string, string>> =>
  Promise.all(
    Object.keys(meanings).map(
      async (name) => [name, await page.getByLabel(name, { exact: true }).inputValue()] as const,
    ),
  ).then(Object.fromEntries);

/** Matches the columns by hand and answers what the file leaves open. */
async function answer(page: Page): Promise<void> {
  for (const [heading, meaning] of Object.entries(meanings)) {
    await page.getByLabel(heading, { exact: true }).selectOption(meaning);
  }
  await page.getByText("Every date here can be read both ways. Say which it is.").waitFor();
  await page.getByLabel("Day first: 3/4 is the third of April").click();
  await page.locator(".files-defaults").getByLabel("Played as").selectOption({ label: "friendly inside the club" });
  await page.getByLabel("Winter Cup, 2025").selectOption({ label: "Open it, on the days of its lines" });
}

test("columns are matched by hand, what a file leaves open is asked once, and the next file of the kind finds it all chosen", async () => {
  const device = await atFiles();
  const { page } = device;
  const before = [state().matches.size, state().players.size, state().events.size];
  await choose(page, "cup.csv", cup);
  await page.getByText("cup.csv: 2 lines").waitFor();
  expect(await chosenFor(page)).not.toEqual(meanings);
  await answer(page);
  await page.getByLabel("Who is “Nobody Atall”?").selectOption({ label: "A visitor who is not in the record: add" });
  await line(page, 3).getByText("The record does not know what Nobody Atall was played off.").waitFor();
  // Given up: nothing of it is in the record, the visitor and the cup neither, and nothing is remembered.
  await page.getByRole("button", { name: "Start again" }).click();
  await choose(page, "cup.csv", cup.slice(0, 2));
  await page.getByText("cup.csv: 1 line").waitFor();
  expect(await chosenFor(page)).not.toEqual(meanings);
  await device.online();
  await inStep(page);
  expect([state().matches.size, state().players.size, state().events.size]).toEqual(before);

  await answer(page);
  await page.getByText("1 event will be opened.").waitFor();
  await page.getByRole("button", { name: "Save 1 game" }).click();
  await until("the game arrives", () => gamesHere() === before[0]! + 1);
  expect(scene.games("kit").find(({ date }) => date === "2025-02-03")?.score).toEqual([7, 4]);
  expect(state().events.size).toBe(before[2]! + 1);

  await choose(page, "cup, round two.csv", cup.slice(0, 2));
  await page.getByText("cup, round two.csv: 1 line").waitFor();
  expect(await chosenFor(page)).toEqual(meanings);
  // The same game again changes nothing.
  await page.getByText("There is nothing new to save.").waitFor();
  expect(await saveButton(page).isDisabled()).toBe(true);
  await page.getByRole("button", { name: "Start again" }).click();
  expect(device.faults).toEqual([]);
});

test("a tab that is closed in the middle leaves all of an import in the record or nothing of it, and never part", async () => {
  const device = await atFiles();
  const { page } = device;
  const [games, files] = [gamesHere(), page.url()];
  const many = 600;
  const rows = longFile("2023-06-30").filter((_, at) => at === 0 || (at > 501 && at <= 501 + many));
  // Once while it is shown, then at moments while it is saved, then when it has been.
  const moments: (() => Promise<unknown>)[] = [
    () => Promise.resolve(),
    () => saveButton(page).click(),
    () =>
      saveButton(page)
        .click()
        .then(() => page.waitForTimeout(60)),
    () =>
      saveButton(page)
        .click()
        .then(() => page.waitForTimeout(200)),
    () =>
      saveButton(page)
        .click()
        .then(() => page.getByText(`${many} games saved`).first().waitFor()),
  ];
  const found: string[] = [];
  const counted = (name: string) => page.getByRole("button", { name, exact: true });
  for (const moment of moments) {
    await choose(page, "part.csv", rows);
    await counted(`${many} good`)
      .or(counted(`${many} already in the record`))
      .waitFor();
    if ((await counted(`${many} good`).count()) === 0) break;
    await moment();
    // As closing it does: the page goes without being asked.
    await page.goto("about:blank");
    await page.goto(files);
    await title(page).waitFor();
    await choose(page, "part.csv", rows);
    await counted(`${many} good`)
      .or(counted(`${many} already in the record`))
      .waitFor();
    found.push((await counted(`${many} good`).count()) === 1 ? "none" : "all");
    await page.getByRole("button", { name: "Start again" }).click();
  }
  console.info(`after each moment: ${found.join(", ")}`);
  expect(found[0]).toBe("none");
  expect(found.at(-1)).toBe("all");
  await until("all of it arrives", () => gamesHere() === games + many);
  expect(device.faults).toEqual([]);
});

/** Five thousand lines with ten bad ones, each of another kind: the line and what is said of it. */
const FIRST = 2;
const LINES = 5000;
const bad: ReadonlyMap<number, readonly [field: string, typed: string, told: string]> = new Map([
  [2, ["score", "7-8", "Score: 7-8 cannot be: the winner of 13 points has 7, the loser fewer. Correct it"]],
  [501, ["date", "2025-02-30", "Date: “2025-02-30” is not a day there is. Write it, such as"]],
  [502, ["player", "Nobody Atall", "Player: Nobody is called “Nobody Atall”. Say above who it is"]],
  [1700, ["score", "", "Score: There is no score. Write it."]],
  [2444, ["handicap", "99", "Player's handicap: “99” is not a handicap. Write a whole number"]],
  [2500, ["date", "", "Date: There is no date. Write it"]],
  [3333, ["opponent", "", "Opponent: There is no name. Write it"]],
  [4001, ["occasion", "tombola", "Played as: “tombola” is not known. Write one of: calendar event"]],
  [4999, ["opponentHandicap", "seven", "Opponent's handicap: “seven” is not a handicap. Write a whole number"]],
  [5001, ["date", "2999-01-01", "Date: The day has not come yet"]],
]);

function longFile(last = "2025-06-30"): readonly string[] {
  const names = members.map(([, name, , handicap]) => [name, handicap] as const);
  const rows = Array.from({ length: LINES }, (_, at): string => {
    const [own, other] = [names[at % 12]!, names[(at * 7 + 5) % 12]!];
    const across = own === other ? names[(at + 1) % 12]! : other;
    const cells: Record<string, string | number> = {
      date: before(last, 600 - Math.floor(at / 9)),
      player: own[0],
      handicap: own[1],
      opponent: across[0],
      opponentHandicap: across[1],
      score: `7-${at % 7}`,
      occasion: "ad-hoc game",
    };
    const spoilt = bad.get(at + FIRST);
    if (spoilt !== undefined) cells[spoilt[0]] = spoilt[1];
    return Object.values(cells).join(",");
  });
  return ["date,player,handicap,opponent,opponent handicap,score,occasion", ...rows];
}

test("of five thousand lines ten bad ones are named, the rest is saved once that is confirmed, the screen answers meanwhile, and the same file again changes nothing", async () => {
  const device = await atFiles();
  const { page } = device;
  const [games, file] = [gamesHere(), longFile()];
  await watchPage(page);
  await choose(page, "ten years.csv", file);
  await page.getByRole("button", { name: "10 faulty", exact: true }).waitFor();
  expect(await watched(page)).toMatchObject({ barsMoved: true });
  const told = await page
    .locator(".files-line")
    .evaluateAll((all) =>
      all.map((one) => [
        Number(/Line (\d+)/.exec(one.querySelector(".files-line-head")?.textContent ?? "")?.[1]),
        `${one.querySelector("label")?.lastChild?.textContent}: ${one.querySelector(".error")?.textContent}`,
      ]),
    );
  expect(told).toEqual([...bad].map(([number, [, , words]]) => [number, expect.stringContaining(words)]));
  expect(await page.getByRole("button", { name: `${LINES - bad.size} good` }).count()).toBe(1);
  expect(await saveButton(page).isDisabled()).toBe(true);
  await page.getByRole("button", { name: "Leave out the 10 faulty lines" }).click();
  await page.getByRole("button", { name: "Save 4990 games" }).click();
  // Another screen is opened and used while it is being saved.
  await page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await page
    .getByRole("searchbox")
    .or(page.getByLabel("Find", { exact: true }))
    .first()
    .fill("und");
  await expect.poll(() => page.locator("main tbody tr").count()).toBe(1);
  await page.getByText("4990 games saved").first().waitFor();
  const { gap, since } = await watched(page);
  console.info(`longest time without a frame in ${Math.round(since)} ms of reading and saving: ${Math.round(gap)} ms`);
  // Never longer than a moment; on a machine that is busy otherwise a moment is longer.
  expect(gap).toBeLessThan(Math.max(1000, since / 4));
  await until("the games arrive", () => gamesHere() === games + 4990, 60_000);

  // A card of so many games is drawn in part, and whole when asked.
  await page.getByRole("link", { name: "Kit Underlea" }).click();
  const lines = page.locator("tr.card-line");
  await page.getByRole("heading", { level: 1, name: "Kit Underlea" }).waitFor();
  await lines.first().waitFor();
  const all = scene.card("kit").lines.length;
  await expect.poll(() => lines.count()).toBeLessThan(200);
  await page.getByRole("button", { name: `Show ${all - (await lines.count())} more lines` }).click();
  await expect.poll(() => lines.count()).toBe(all);

  const digest = scene.club.root.digest();
  await page.getByRole("navigation").getByRole("link", { name: "Enter" }).click();
  await page.getByRole("link", { name: "From a spreadsheet" }).click();
  await page.getByText("4990 games from ten years.csv, saved on").waitFor();
  await choose(page, "ten years.csv", file);
  await page.getByRole("button", { name: "4990 already in the record" }).waitFor();
  await page.getByRole("button", { name: "Leave out the 10 faulty lines" }).click();
  await page.getByText("There is nothing new to save.").waitFor();
  expect(await saveButton(page).isDisabled()).toBe(true);
  await page.getByRole("button", { name: "Start again" }).click();
  await inStep(page);
  expect(scene.club.root.digest()).toBe(digest);
  expect(device.faults).toEqual([]);
}, 240_000);

interface Watched {
  /** Longest time between two frames, in milliseconds. */
  readonly gap: number;
  /** How long it has been watched. */
  readonly since: number;
  /** A bar that was neither at its beginning nor at its end was seen. */
  readonly barsMoved: boolean;
}

/** Keeps watch over frames and bars until it is asked. */
const watchPage = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const seen = { gap: 0, since: 0, barsMoved: false };
    const start = performance.now();
    let last = start;
    const frame = (now: number): void => {
      seen.gap = Math.max(seen.gap, now - last);
      last = now;
      seen.since = now - start;
      for (const bar of document.querySelectorAll("progress"))
        if (bar.position > 0 && bar.position < 1) seen.barsMoved = true;
      requestAnimationFrame(frame);
    };
    requestAnimationFrame(frame);
    Object.assign(window, { seen });
  });
const watched = (page: Page): Promise<Watched> => page.evaluate(() => (window as unknown as { seen: Watched }).seen);
