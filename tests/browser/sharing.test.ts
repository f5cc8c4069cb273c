/** Sharing and extra strokes on the built app: what waits, working offline, the same mark on both, and the record as a file. */
import { readFile } from "node:fs/promises";
import { compactVerify, importJWK } from "jose";
import { afterAll, beforeAll, expect, test } from "vitest";
import { digestMark } from "../../packages/client/src/app/sharing/digest-mark.ts";
import { verifyRecordFile } from "../../packages/client/src/record/verify.ts";
import type { Scene } from "./at-a-desk.ts";
import { expectAccessible, startScene } from "./at-a-desk.ts";

let scene: Scene;

beforeAll(async () => {
  scene = await startScene();
});
afterAll(() => scene?.close());

test("two devices in step show the same mark, and whose devices there are", async () => {
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "Sharing");
  const record = page.getByRole("region", { name: "Thornfield Croquet Club", exact: true });
  await record.getByText("Everything is stored at the relay.").waitFor();
  await expect.poll(() => record.innerText()).toContain(digestMark(scene.club.root.digest()));
  const table = page.getByRole("table", { name: "Thornfield Croquet Club" });
  await table.getByText("(this device)").waitFor();
  expect(await table.getByRole("row").count()).toBe(1 + scene.club.root.state().devices.size);
  await expectAccessible(page);
  expect(faults).toEqual([]);
});

test("working offline keeps entries here, says how many wait, and gives them up again", async () => {
  const { page, faults } = await scene.open(scene.club.passes.recorder, "Sharing");
  const before = scene.club.root.state().entries;
  await page.getByLabel("Work offline").check();
  await page.getByText("This device neither sends nor fetches").waitFor();
  await page.getByRole("navigation").getByRole("link", { name: "Enter" }).click();
  await page.getByLabel("Played as").selectOption("club competition");
  await page.getByRole("combobox", { name: "Player", exact: true }).focus();
  for (const word of ["ada", "gwen", "7", "1"]) {
    await page.keyboard.type(word);
    await page.keyboard.press("Enter");
  }
  await page.getByText("Saved: Ada W. 7–1 Gwen A.").waitFor();
  await page.getByRole("region", { name: "Entered on this device" }).getByText("saved here").waitFor();
  await page.getByRole("navigation").getByRole("link", { name: "Sharing" }).click();
  await page.getByText("1 entry is only on this device so far").waitFor();
  const record = page.getByRole("region", { name: "Thornfield Croquet Club", exact: true });
  await record.getByText("Newest entries").click();
  expect(await record.getByRole("listitem").first().innerText()).toMatch(/Ada W\. 7–1 Gwen A\.[\s\S]*saved here/);
  expect(scene.club.root.state().entries).toBe(before);

  await page.getByLabel("Work offline").uncheck();
  await expect.poll(() => scene.club.root.state().entries, { timeout: 20_000 }).toBe(before + 1);
  await record.getByText("Everything is stored at the relay.").waitFor();
  await expect.poll(() => record.innerText()).toContain(digestMark(scene.club.root.digest()));
  expect(faults).toEqual([]);
});

test("the record as a file is checked with nothing but the file, by ours and by a JOSE library", async () => {
  const { page, faults } = await scene.open(scene.club.passes.handicapper, "Sharing");
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.getByRole("button", { name: "Save Thornfield Croquet Club as a file" }).click(),
  ]);
  expect(download.suggestedFilename()).toMatch(/^thornfield-croquet-club-\d{4}-\d\d-\d\d\.jsonl$/);
  const text = await readFile(await download.path(), "utf8");
  const entries = scene.club.root.state().entries;
  await page.getByText(`${entries} entries written.`).waitFor();
  const checked = await verifyRecordFile(text);
  expect(checked.ok && checked.value.report).toMatchObject({ entries, book: scene.club.root.id });
  for (const { name } of [{ name: "Ada Wren" }, { name: "Bo Linnet" }]) expect(text).not.toContain(name);

  const lines = text
    .trimEnd()
    .split("\n")
    .map((line) => JSON.parse(line) as string);
  const payloads = lines.map((jws) => JSON.parse(Buffer.from(jws.split(".")[1]!, "base64url").toString()));
  const root = payloads.find(({ kind }) => kind === "book-opened").body.root as string;
  const opening = lines[payloads.findIndex(({ kind }) => kind === "book-opened")]!;
  const key = await importJWK({ kty: "OKP", crv: "Ed25519", x: root }, "EdDSA");
  expect((await compactVerify(opening, key)).protectedHeader.alg).toBe("EdDSA");
  expect(faults).toEqual([]);
});

test("extra strokes for any pairing: two taps, or two numbers, or two names", async () => {
  const { page, faults } = await scene.open(scene.club.passes.reader, "Strokes");
  const answer = page.getByRole("region", { name: "Who receives what" });
  const [one, two] = [
    page.getByRole("group", { name: "One side" }),
    page.getByRole("group", { name: "The other side" }),
  ];
  await one.getByRole("button", { name: "7", exact: true }).click();
  await two.getByRole("button", { name: "16", exact: true }).click();
  await answer.getByText("The 16 receives 9 extra strokes.").waitFor();
  await one.getByLabel("One side, handicap").fill("-2");
  await answer.getByText("The 16 receives 18 extra strokes.").waitFor();
  await one.getByLabel("One side, handicap").fill("13");
  await one.getByText("“13” is not a handicap in the table.").waitFor();
  await page.getByRole("combobox", { name: "One side, by name" }).fill("hal");
  await page.keyboard.press("Enter");
  await answer
    .getByText(/The 16 receives \d+ extra strokes\./)
    .first()
    .waitFor();
  await expectAccessible(page);
  expect(faults).toEqual([]);
});
