/** A roster's value is opened and checked once, however many ways it comes. */
import { createSigner, seal, systemRandom } from "@sward/client";
import type { BookId, KeyId, PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import { signErasure, signRecord } from "../../../packages/client/src/book/roster.ts";
import { createRosterReader } from "../../../packages/client/src/book/roster-reader.ts";
import { deriveEpoch } from "../../../packages/client/src/keys/book-keys.ts";
import { createVerifier } from "../../../packages/client/src/keys/verifier.ts";

const about = "AAAAAAAAAAAAAAAAAAAAAA" as PlayerId;
const at = "2026-05-01T10:00:00Z";
const ada = { name: "Ada Wren", short: "Ada W." };

async function scene() {
  const signer = await createSigner(systemRandom(32));
  const book = signer.id as string as BookId;
  const epoch = await deriveEpoch(book, { epoch: 0, secret: systemRandom(32) });
  const verifier = createVerifier();
  verifier.learn(signer.key);
  const barred = new Set<KeyId>();
  let checked = 0;
  const may = (author: KeyId): boolean => !barred.has(author);
  const reader = createRosterReader({
    book,
    keysOf: () => epoch,
    verifier: {
      ...verifier,
      verify(jws, author) {
        checked += 1;
        return verifier.verify(jws, author);
      },
    },
    mayWrite: may,
    mayErase: may,
  });
  const sealed = (jws: string): Promise<Uint8Array> => seal(book, epoch, [jws], systemRandom);
  const record = async (name: string) => sealed(await signRecord(signer, book, about, { ...ada, name }, at));
  const erasure = async () => sealed(await signErasure(signer, book, about, "asked", at));
  return { reader, signer, barred, record, erasure, checks: () => checked };
}

test("a value that comes again is not checked again; another one is, and the first after it too", async () => {
  const { reader, record, checks } = await scene();
  const [one, two] = [await record("Ada Wren"), await record("Ada Heron")];
  // The same bytes, as they come from the vault, the document's store and the relay.
  for (const again of [one, one.slice(), one.slice()])
    expect((await reader.record(about, again))?.name).toBe("Ada Wren");
  expect(checks()).toBe(1);
  expect((await reader.record(about, two))?.name).toBe("Ada Heron");
  expect((await reader.record(about, one))?.name).toBe("Ada Wren");
  expect(checks()).toBe(3);
});

test("what was read is asked anew whether its author may say it", async () => {
  const { reader, signer, barred, record, erasure, checks } = await scene();
  const [name, gone] = [await record("Ada Wren"), await erasure()];
  expect(await reader.record(about, name)).toEqual(ada);
  expect(await reader.erasure(about, gone)).toEqual({ by: signer.id, at, reason: "asked" });
  barred.add(signer.id);
  expect(await reader.record(about, name)).toBeNull();
  expect(await reader.erasure(about, gone)).toBeNull();
  barred.clear();
  expect(await reader.record(about, name)).toEqual(ada);
  expect(checks()).toBe(2);
});

test("what is bad stays bad, and of whom it is to forget it keeps nothing", async () => {
  const { reader, record, checks } = await scene();
  const good = await record("Ada Wren");
  const spoilt = Uint8Array.from(good, (byte, place) => (place === good.length - 1 ? byte ^ 1 : byte));
  expect(await reader.record(about, good)).toEqual(ada);
  expect(await reader.record(about, spoilt)).toBeNull();
  expect(await reader.record("BBBBBBBBBBBBBBBBBBBBBB", good)).toBeNull();
  expect(checks()).toBe(1);
  reader.forget(about);
  expect(await reader.record(about, good)).toEqual(ada);
  expect(checks()).toBe(2);
});
