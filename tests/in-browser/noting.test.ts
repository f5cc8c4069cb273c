/** What a device last knew is kept in a real IndexedDB, and not while the record is still being read for the first time. */
import { createMemoryDocStore, createMemoryVault, createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId } from "@sward/core";
import { expect, test } from "vitest";
import { readLastKnown } from "../../packages/client/src/app/last-known/kept.ts";
import { noteSoon } from "../../packages/client/src/app/last-known/noting.ts";
import type { Desk } from "../../packages/client/src/desk/desk.ts";

/** Longer than it is put off for after the last change. */
const A_WHILE_MS = 3_000;

test("nothing is kept of a record that has not been read to its end; when it has, it is", async () => {
  const root = await createSigner(systemRandom(32));
  const vault = createMemoryVault();
  const book = await openBook({
    book: root.id as string as BookId,
    device: root,
    epochs: [{ epoch: 0, secret: systemRandom(32) }],
    freshKey: true,
    vault,
    ledgerStore: createMemoryDocStore(),
    rosterStore: createMemoryDocStore(),
    relay: null,
    clock: { today: () => "2026-06-01", timestamp: () => "2026-06-01T10:00:00Z" },
    randomBytes: systemRandom,
    entriesPerBlock: 50,
  });
  const founded = await book.append([{ kind: "book-opened", body: { root: root.key, as: "club", name: "Larkhill" } }]);
  expect(founded.ok).toBe(true);
  let isRead = false;
  const club = { ...book, caughtUp: () => isRead };
  const desk = { club, leagues: [], today: () => "2026-06-01" } as unknown as Desk;
  const kept = () => readLastKnown(book.device, book.id, vault);
  const noted = async (): Promise<string | null> => {
    noteSoon(desk, () => true);
    await new Promise((later) => setTimeout(later, A_WHILE_MS));
    return (await kept())?.name ?? null;
  };
  expect(await noted()).toBe(null);
  isRead = true;
  expect(await noted()).toBe("Larkhill");
  await book.close();
});
