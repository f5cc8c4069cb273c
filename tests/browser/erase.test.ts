/** Erasing a person in two real browser profiles: what is said before, what is shown after, and what is left in the profiles' files. */
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { encodePass } from "@sward/client";
import { openLevelStorage } from "@sward/relay";
import type { BrowserContext, Page } from "playwright-core";
import { chromium } from "playwright-core";
import { afterAll, beforeAll, expect, inject, test } from "vitest";
import { launchOptions } from "../support/browser.ts";
import { temporaryFolders } from "../support/folders.ts";
import type { TestRelay } from "../support/meeting.ts";
import { random, relayWith } from "../support/meeting.ts";
import type { SmallClub } from "../support/small-club.ts";
import { foundSmallClub, player } from "../support/small-club.ts";
import { filesWith } from "../support/store-files.ts";
import { expectAccessible, inStep, today, toScreen } from "./at-a-desk.ts";

const folder = temporaryFolders();
const relayFolder = folder();
const ada = player("ada");

interface Profile {
  readonly at: string;
  readonly context: BrowserContext;
  readonly page: Page;
  readonly faults: string[];
}

let relay: TestRelay;
let club: SmallClub;
const profiles: Profile[] = [];

/** A browser with a folder of its own, as a person has one. */
async function profileOf(role: keyof SmallClub["passes"]): Promise<Profile> {
  const at = folder();
  const profile = await startProfile(at);
  await profile.page.goto(`${relay.origin}/#pass=${encodePass(club.passes[role])}`);
  await inStep(profile.page);
  profiles.push(profile);
  return profile;
}

async function startProfile(at: string): Promise<Profile> {
  const size = { width: 1280, height: 900 };
  const context = await chromium.launchPersistentContext(at, {
    ...(await launchOptions()),
    locale: "en-GB",
    viewport: size,
  });
  const page = context.pages()[0] ?? (await context.newPage());
  const faults: string[] = [];
  page.on("pageerror", (error) => faults.push(String(error)));
  return { at, context, page, faults };
}

/** IndexedDB is where names are; caches and logs of the browser hold none and come and go. */
const holding = ({ at }: Profile, value: Uint8Array): string[] => filesWith(join(at, "Default"), value);

async function toCard(page: Page, name: string): Promise<void> {
  await toScreen(page, "Members");
  await page.getByRole("link", { name }).first().click();
  await page.getByRole("heading", { name: "Personal data" }).waitFor();
}

beforeAll(async () => {
  relay = await relayWith({ app: inject("app") }, await openLevelStorage(relayFolder, random));
  club = await foundSmallClub(relay.origin, today());
});

afterAll(async () => {
  for (const { context } of profiles) await context.close();
  await club?.close();
  await relay?.close();
});

test("a name is erased: nobody's index moves, both browsers say so, and no byte of it is left in either, nor at the relay", async () => {
  const [office, tablet] = [await profileOf("handicapper"), await profileOf("recorder")];
  const sealed = club.root.roster.envelopes().get(ada)!;
  const others = club.root.roster.envelopes().get(player("bo"))!;
  await tablet.page.getByRole("navigation").getByRole("link", { name: "Members" }).click();
  await tablet.page.getByRole("link", { name: "Ada Wren" }).first().waitFor();
  // The names are there, or finding none of them afterwards would show nothing.
  for (const profile of [office, tablet])
    await expect.poll(() => holding(profile, sealed), { timeout: 20_000 }).not.toEqual([]);
  expect(filesWith(relayFolder, sealed)).not.toEqual([]);
  const cards = JSON.stringify([...club.root.state().cards]);

  // A recorder's device is told why not.
  await toCard(tablet.page, "Ada Wren");
  expect(await tablet.page.getByRole("button", { name: "Erase the name" }).isDisabled()).toBe(true);
  await tablet.page.getByText("Only a handicapper's device erases a name.").waitFor();

  await toCard(office.page, "Ada Wren");
  const [download] = await Promise.all([
    office.page.waitForEvent("download"),
    office.page.getByRole("button", { name: "Everything about this person, as a file" }).click(),
  ]);
  expect(download.suggestedFilename()).toBe(`about-one-person-${today()}.html`);
  const file = await readFile(await download.path(), "utf8");
  expect(file).toContain("Ada Wren");
  const data = JSON.parse(/id="data">(.*?)<\/script>/s.exec(file)?.[1] ?? "");
  expect(data.ids).toEqual([ada]);
  expect(data.books[0].card.lines.length).toBe(club.root.state().cards.get(ada)?.lines.length);

  await office.page.getByRole("button", { name: "Erase the name" }).click();
  const dialog = office.page.getByRole("dialog", { name: "Erase the name of Ada Wren" });
  await dialog.getByText("This cannot be taken back, by anybody.").waitFor();
  await expectAccessible(office.page);
  await dialog.getByLabel("To erase, type the name: Ada Wren").fill("Ada");
  await office.page.keyboard.press("Enter");
  await dialog.getByText("That is not the name as it is written above.").waitFor();
  await dialog.getByText("Choose why").waitFor();
  expect(club.root.roster.get(ada)?.name).toBe("Ada Wren");
  await dialog.getByLabel("The person asked for it").check();
  await dialog.getByLabel("To erase, type the name: Ada Wren").fill("ada  wren");
  await office.page.keyboard.press("Enter");
  await office.page.getByText("The name is erased. It cannot be brought back.").waitFor();
  expect(await office.page.getByRole("button", { name: "Undo" }).count()).toBe(0);
  await office.page.getByRole("heading", { name: "Player withdrawn", level: 1 }).waitFor();
  await office.page.getByText("It cannot be brought back. The games stay").waitFor();

  await expect.poll(() => club.root.roster.erased(ada)?.reason, { timeout: 20_000 }).toBe("asked");
  expect(JSON.stringify([...club.root.state().cards])).toBe(cards);
  await tablet.page.getByRole("heading", { name: "Player withdrawn", level: 1 }).waitFor();
  await toScreen(tablet.page, "Members");
  await tablet.page.getByRole("link", { name: "Bo Linnet" }).first().click();
  await tablet.page.getByRole("cell", { name: "Player withdrawn" }).first().waitFor();

  for (const profile of [office, tablet]) {
    await profile.page.reload();
    await inStep(profile.page);
    await expect.poll(() => holding(profile, sealed), { timeout: 30_000 }).toEqual([]);
    expect(holding(profile, others)).not.toEqual([]);
    expect(await profile.page.getByText("Ada W").count()).toBe(0);
  }
  expect(filesWith(relayFolder, sealed)).toEqual([]);
  // And when the browsers have been closed and opened again.
  for (const profile of [office, tablet]) {
    const address = profile.page.url();
    await profile.context.close();
    expect(holding(profile, sealed)).toEqual([]);
    const again = await startProfile(profile.at);
    profiles[profiles.indexOf(profile)] = again;
    await again.page.goto(address);
    await toScreen(again.page, "Members");
    await again.page.getByRole("link", { name: "Bo Linnet" }).first().waitFor();
    expect(await again.page.getByText("Ada Wren").count()).toBe(0);
    expect(holding(again, sealed)).toEqual([]);
    expect([...profile.faults, ...again.faults]).toEqual([]);
  }
});
