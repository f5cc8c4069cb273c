import { createSigner, systemRandom } from "@sward/client";
import type { BookId, EntryId } from "@sward/core";
import { decodeEntry } from "@sward/core";
import { expect, test } from "vitest";
import { recallEntries } from "../../../packages/client/src/book/recall.ts";
import type { HeldEntry } from "../../../packages/client/src/book/vault.ts";

test("LE6 an entry recalled from the vault is the entry that was decoded; a damaged text is left out", async () => {
  const signer = await createSigner(systemRandom(32));
  const payload = { v: 1, book: signer.id as string as BookId, prev: null, at: "2026-05-01T10:00:00Z" };
  const texts = [
    await signer.signEntry({ ...payload, seq: 0, kind: "policy-set", body: { unconfirmed: "waits" } }),
    await signer.signEntry({
      ...payload,
      seq: 1,
      kind: "entry-withdrawn",
      body: { withdraws: signer.id, reason: "ünïcode 😀" },
    }),
    await signer.signEntry({ ...payload, seq: 2, kind: "lawn-mown", body: { lawn: 1 } }),
  ];
  const decoded = texts.map((jws) => {
    const entry = decodeEntry(jws);
    if (!entry.ok) throw new Error(entry.fault.type);
    return entry.value;
  });
  expect(decoded.map(({ understood }) => understood)).toEqual([true, true, false]);
  const held = decoded.map(
    ({ id, understood }, n): HeldEntry => ({ id, jws: texts[n] as string, understood, place: null }),
  );
  const damaged: HeldEntry[] = ["", "a.b.c", "e30.e"].map((jws, n) => ({
    ...(held[0] as HeldEntry),
    id: `x${n}` as EntryId,
    jws,
  }));
  expect([...recallEntries([...held, ...damaged])]).toEqual(decoded.map((entry) => [entry.id, entry]));
});
