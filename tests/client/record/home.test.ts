import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { openHome, readHome, writeHome } from "@sward/client/node";
import { base64url } from "jose";
import { expect, test } from "vitest";
import { temporaryFolders } from "../../support/folders.ts";
import { clock, SECRET, signer } from "./signed-club.ts";

const folder = temporaryFolders();

async function passOf(seed: number) {
  const { id } = await signer(seed);
  return {
    v: 1 as const,
    label: "pavilion tablet",
    seed: base64url.encode(new Uint8Array(32).fill(seed)),
    club: { book: id as never, epochs: [{ epoch: 1, secret: base64url.encode(SECRET) }] },
    leagues: [],
  };
}

test("a home gives back the pass it was made with, which only its owner may read", async () => {
  const home = `${folder()}/larkhill/pavilion`;
  const pass = await passOf(10);
  expect(await writeHome(home, pass)).toEqual({ ok: true, value: null });
  expect(await readHome(home)).toEqual({ ok: true, value: pass });
  expect(statSync(`${home}/pass.json`).mode & 0o777).toBe(0o600);
  expect(readdirSync(home)).toEqual(["pass.json"]);
});

test("what an interrupted writing left behind does not open the pass to others", async () => {
  const home = folder();
  writeFileSync(`${home}/pass.json.new`, "half of", { mode: 0o644 });
  expect(await writeHome(home, await passOf(10))).toMatchObject({ ok: true });
  expect(statSync(`${home}/pass.json`).mode & 0o777).toBe(0o600);
  expect(readdirSync(home)).toEqual(["pass.json"]);
});

test("a device's pass can be renewed, another device's is refused and the first stays", async () => {
  const home = folder();
  const [pass, other] = [await passOf(10), await passOf(11)];
  await writeHome(home, pass);
  const renewed = { ...pass, leagues: [other.club] };
  expect(await writeHome(home, renewed)).toMatchObject({ ok: true });
  expect(await writeHome(home, other)).toEqual({ ok: false, fault: { type: "home-taken", folder: home } });
  expect(await readHome(home)).toEqual({ ok: true, value: renewed });
});

test("what is no home is refused, and nothing is made of it", async () => {
  const empty = folder();
  for (const at of [empty, `${empty}/nowhere`]) {
    expect(await readHome(at)).toMatchObject({ ok: false, fault: { type: "home-not-read", folder: at } });
    expect(await openHome(at)).toMatchObject({ ok: false, fault: { type: "home-not-read", folder: at } });
  }
  expect(readdirSync(empty)).toEqual([]);
  const broken = folder();
  for (const text of ["", "{", "{}", '{"v":2}', JSON.stringify({ ...(await passOf(10)), seed: "short" })]) {
    writeFileSync(`${broken}/pass.json`, text);
    expect(await readHome(broken), text).toEqual({ ok: false, fault: { type: "home-not-a-pass", folder: broken } });
    // It may be all there is left of a device.
    expect(await writeHome(broken, await passOf(10))).toEqual({
      ok: false,
      fault: { type: "home-taken", folder: broken },
    });
    expect(readFileSync(`${broken}/pass.json`, "utf8")).toBe(text);
  }
  const blocked = folder();
  mkdirSync(`${blocked}/pass.json.new`);
  expect(await writeHome(blocked, await passOf(10))).toMatchObject({ ok: false, fault: { type: "home-not-written" } });
});

test("a home opens its own books only, and one at a time", async () => {
  const at = folder();
  const pass = await passOf(10);
  await writeHome(at, pass);
  const home = await openHome(at, clock);
  if (!home.ok) throw new Error(home.fault.type);
  expect(home.value.device.id).toBe(pass.club.book);
  const stranger = (await signer(99)).id as never;
  expect(await home.value.open(stranger)).toEqual({
    ok: false,
    fault: { type: "home-no-such-book", folder: at, book: stranger, books: [pass.club.book] },
  });
  const book = await home.value.open(pass.club.book);
  expect(book).toMatchObject({ ok: true, value: { id: pass.club.book } });
  expect(await home.value.open(pass.club.book)).toEqual({ ok: false, fault: { type: "home-in-use", folder: at } });
  if (book.ok) await book.value.close();
  const again = await home.value.open(pass.club.book);
  expect(again.ok).toBe(true);
  if (again.ok) await again.value.close();
});
