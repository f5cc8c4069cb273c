/** A change of handicap proposed by another club's officer and answered by the home club's, in two real browsers at a real relay. */
import type { Browser, Page } from "playwright-core";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import type { Device } from "../support/browser.ts";
import { launch } from "../support/browser.ts";
import type { TestRelay } from "../support/meeting.ts";
import { until } from "../support/meeting.ts";
import { openDevice, startRelayWithApp, startScene, today, toScreen } from "./at-a-desk.ts";
import type { LeagueWorld } from "./league-world.ts";
import { foundLeagueWorld } from "./league-world.ts";
import type { VisitorsHere } from "./visitors-world.ts";
import { expectAccessibleEveryWay, saveInto, withVisitors } from "./visitors-world.ts";

let relay: TestRelay;
let browser: Browser;
let world: LeagueWorld;
let here: VisitorsHere;
/** Heronsgate's captain, who saw Withy's Pip play, and Withy's. */
let ours: Device;
let theirs: Device;

beforeAll(async () => {
  relay = await startRelayWithApp();
  browser = await launch();
  world = await foundLeagueWorld(relay.origin, today(), "handicapper");
  here = await withVisitors(world, today());
  await saveInto(world.home, { kind: "player-linked", body: { player: here.visitor, to: here.pip } });
  await until("the relay has the link", () => world.home.book.waiting() === 0);
  ours = await openDevice(browser, relay.origin, world.home.captain);
  theirs = await openDevice(browser, relay.origin, world.away.captain);
});
afterEach(() => Promise.all([ours, theirs].map(({ context }) => context.setOffline(false))));
afterAll(async () => {
  await browser?.close();
  await world?.close();
  await relay?.close();
});

const card = () => world.away.book.state().cards.get(here.pip);
const heading = (page: Page, name: string) => page.getByRole("heading", { level: 1, name });

/** All scripts of the app are on this device, so that it does without a signal. */
async function appKept(of: Page): Promise<void> {
  await of.evaluate(() => navigator.serviceWorker.ready.then(() => 0));
  await expect.poll(() => of.evaluate(() => navigator.serviceWorker.controller !== null)).toBe(true);
}

async function toPip(page: Page): Promise<void> {
  await toScreen(page, "Members");
  await page.getByRole("link", { name: "Pip Rowan", exact: true }).click();
  await heading(page, "Pip Rowan").waitFor();
}

async function propose(handicap: string, reason: string, game: RegExp | null): Promise<void> {
  const { page } = ours;
  await page.getByRole("button", { name: "Propose a change of handicap" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByRole("heading", { name: "Propose a handicap for Pip Rowan" }).waitFor();
  await dialog.getByText("Withy's handicapper sees it and answers it.").waitFor();
  await dialog.getByLabel("Proposed handicap").selectOption(handicap);
  if (game !== null) await dialog.getByRole("checkbox", { name: game }).check();
  await dialog.getByLabel("Reason").fill(reason);
  await dialog.getByRole("button", { name: "Propose it" }).click();
  await page.getByText(`Handicap ${handicap} is proposed for Pip Rowan.`).waitFor();
  await expect.poll(() => dialog.count()).toBe(0);
}

test("proposed without a signal with the games it rests on; the home club sees it with its card, accepts, and both read the answer", async () => {
  const { page } = ours;
  await toPip(page);
  await appKept(ours.page);
  await ours.goOffline();
  await page.getByRole("button", { name: "Propose a change of handicap" }).click();
  const dialog = page.getByRole("dialog");
  await dialog.getByLabel("Proposed handicap").selectOption("4");
  await dialog.getByRole("button", { name: "Propose it" }).click();
  await dialog.getByText("Write the reason: without one nobody can judge it.").waitFor();
  await expectAccessibleEveryWay(page);
  await page.keyboard.press("Escape");
  await expect.poll(() => dialog.count()).toBe(0);
  // Pip's own score first: he lost the game of twelve days ago, and it is on both clubs' records.
  await propose("4", "placed every long hoop shot", /: off 6, 4–7 against Ivo Larch$/);
  const article = page.getByRole("article", { name: "Pip Rowan: handicap 4 proposed" });
  await article.getByText("Waits for Withy to answer.").waitFor();
  await article.getByText(/^Proposed by Heronsgate, in the Osier League for /).waitFor();
  await article.getByText("Withy says handicap 6").waitFor();
  await ours.online();

  await toScreen(theirs.page, "To do");
  const matter = theirs.page.getByRole("article", { name: "Pip Rowan: handicap 4 proposed" });
  await matter.getByText("“placed every long hoop shot”").waitFor();
  await matter.getByText("on the card here, index then").waitFor();
  await matter.getByText(/^The card says handicap 6, index /).waitFor();
  await expectAccessibleEveryWay(theirs.page);
  await matter.getByRole("button", { name: /^Accept/ }).click();
  const question = theirs.page.getByRole("dialog");
  await question.getByText("The index is set to 1600, the trigger point of that handicap.").waitFor();
  expect(await question.getByLabel("Reason").inputValue()).toBe(
    "proposed by another club: placed every long hoop shot",
  );
  await question.getByLabel("Reason").fill("");
  await question.getByRole("button", { name: "Accept" }).click();
  await question.getByText("Write the reason: both clubs will ask for it.").waitFor();
  await expectAccessibleEveryWay(theirs.page);
  expect(card()?.handicap).toBe(6);
  await question.getByLabel("Reason").fill("seen it too");
  await question.getByRole("button", { name: "Accept" }).click();
  await theirs.page.getByText(/Pip Rowan.s handicap is 4 from .*, and the proposal is answered\./).waitFor();
  await expect.poll(() => matter.count()).toBe(0);
  await expect.poll(() => card()?.handicap, { timeout: 20_000 }).toBe(4);
  expect(card()?.lines.at(-1)).toMatchObject({ line: "set", reason: "discretionary", why: "seen it too", index: 1600 });

  // At the other club: the answer, and what the home club states now.
  await article.getByText(/^Accepted by Withy, in the Osier League, /).waitFor();
  await article.getByText("“seen it too”").waitFor();
  await page
    .getByText(/^As this device knows it\. This device last met the relay on /)
    .first()
    .waitFor();
  await page.getByText(/^Withy says handicap 4, from .* \(Osier League\)\.$/).waitFor();
  // On the card at home it stands with its answer.
  await toPip(theirs.page);
  await theirs.page
    .getByRole("article", { name: "Pip Rowan: handicap 4 proposed" })
    .getByText(/^Accepted by/)
    .waitFor();
  expect([...ours.faults, ...theirs.faults]).toEqual([]);
});

test("declined with a reason, answered anew, and taken back by who proposed; nothing of it moves a card", async () => {
  await toPip(ours.page);
  await propose("3", "won three in a row", null);
  await toScreen(theirs.page, "To do");
  const matter = theirs.page.getByRole("article", { name: "Pip Rowan: handicap 3 proposed" });
  await matter.getByRole("button", { name: /^Decline/ }).click();
  const question = theirs.page.getByRole("dialog");
  await question.getByLabel("Reason").fill("three games say little");
  await question.getByRole("button", { name: "Decline" }).click();
  await theirs.page.getByText("The proposal for Pip Rowan is declined.").waitFor();
  await expect.poll(() => matter.count()).toBe(0);
  const article = ours.page.getByRole("article", { name: "Pip Rowan: handicap 3 proposed" });
  await article.getByText(/^Declined by Withy/).waitFor();
  await article.getByText("“three games say little”").waitFor();
  expect(await article.getByRole("button", { name: /^Take it back/ }).count()).toBe(0);
  expect(card()?.handicap).toBe(4);

  // All of them on one page, found from the list of members.
  await toScreen(theirs.page, "Members");
  await theirs.page.getByRole("link", { name: "Proposed changes" }).click();
  await heading(theirs.page, "Proposed changes").waitFor();
  expect(await theirs.page.getByRole("article").count()).toBe(2);
  await expectAccessibleEveryWay(theirs.page);
  await theirs.page
    .getByRole("article", { name: "Pip Rowan: handicap 3 proposed" })
    .getByRole("button", { name: /^Answer anew/ })
    .click();
  await theirs.page
    .getByRole("button", { name: /^Accept/ })
    .first()
    .waitFor();

  await propose("5", "a slip", null);
  const slip = ours.page.getByRole("article", { name: "Pip Rowan: handicap 5 proposed" });
  await theirs.page.getByRole("article", { name: "Pip Rowan: handicap 5 proposed" }).waitFor();
  await slip.getByRole("button", { name: /^Take it back/ }).click();
  await expect.poll(() => slip.count()).toBe(0);
  await expect
    .poll(() => theirs.page.getByRole("article", { name: "Pip Rowan: handicap 5 proposed" }).count(), {
      timeout: 20_000,
    })
    .toBe(0);
  expect(card()?.handicap).toBe(4);
  expect(card()?.lines.filter(({ line }) => line === "set")).toHaveLength(2);
  expect([...ours.faults, ...theirs.faults]).toEqual([]);
});

test("a visitor whom no league knows: it is said why nothing can be proposed, and how it can", async () => {
  await toScreen(ours.page, "Members");
  await ours.page.getByRole("link", { name: "Tam Osier" }).click();
  await heading(ours.page, "Tam Osier").waitFor();
  await ours.page.getByText("This player is in none of this device's leagues").waitFor();
  expect(await ours.page.getByRole("button", { name: "Propose a change of handicap" }).count()).toBe(0);
});

test("an event's recorder proposes for a member in the club's own record; accepted, it is on the card, and one press undoes both", async () => {
  const scene = await startScene();
  try {
    const recorder = await scene.open(scene.club.passes.recorder, "Members");
    await recorder.page.getByRole("link", { name: "Kit Underlea" }).click();
    await heading(recorder.page, "Kit Underlea").waitFor();
    await recorder.page.getByRole("button", { name: "Propose a change of handicap" }).click();
    const dialog = recorder.page.getByRole("dialog");
    await dialog.getByText("This club's handicapper sees it among the things to do").waitFor();
    await dialog.getByLabel("Proposed handicap").selectOption("4");
    await dialog.getByRole("checkbox").first().check();
    await dialog.getByLabel("Reason").fill("won the cup off 6");
    await dialog.getByRole("button", { name: "Propose it" }).click();
    await recorder.page.getByText("Handicap 4 is proposed for Kit Underlea.").waitFor();
    await recorder.page.getByText("Answering is for a handicapper's device of the home club.").waitFor();

    const before = scene.card("kit").handicap;
    const { page } = await scene.open(scene.club.passes.handicapper, "To do");
    const matter = page.getByRole("article", { name: "Kit Underlea: handicap 4 proposed" });
    await matter.getByText("on the card here, index then").waitFor();
    await matter.getByRole("button", { name: /^Accept/ }).click();
    await page.getByRole("dialog").getByRole("button", { name: "Accept" }).click();
    await expect.poll(() => matter.count()).toBe(0);
    await expect.poll(() => scene.card("kit").handicap, { timeout: 20_000 }).toBe(4);
    await page.getByRole("button", { name: "Undo" }).click();
    await matter.waitFor();
    await expect.poll(() => scene.card("kit").handicap, { timeout: 20_000 }).toBe(before);
  } finally {
    await scene.close();
  }
});
