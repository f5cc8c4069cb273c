/** A second club at the relay that nobody has joined yet, for players who come: its root at a desk under Node, a pass for a browser. */
import type { Book, Pass } from "@sward/client";
import { createMemoryDocStore, createMemoryVault, createSigner, openBook, openWire, systemRandom } from "@sward/client";
import type { BookId, Day, Draft } from "@sward/core";
import { base64url } from "jose";
import { random, until, wireDeps } from "../support/meeting.ts";

export interface NewClub {
  readonly book: BookId;
  readonly root: Book;
  /** Of a handicapper's device. */
  readonly pass: Pass;
}

export async function foundNewClub(relay: string, name: string, today: Day): Promise<NewClub> {
  const [rootSeed, deviceSeed, secret] = [random(32), random(32), random(32)];
  const [root, device] = [await createSigner(rootSeed), await createSigner(deviceSeed)];
  const book = root.id as string as BookId;
  const opened = await openBook({
    book,
    device: root,
    epochs: [{ epoch: 0, secret }],
    vault: createMemoryVault(),
    ledgerStore: createMemoryDocStore(),
    rosterStore: createMemoryDocStore(),
    relay: { url: relay, open: openWire, deps: wireDeps },
    clock: { today: () => today, timestamp: () => `${today}T00:00:00Z` },
    randomBytes: systemRandom,
    entriesPerBlock: 200,
  });
  await until("the new club's root may write", () => opened.caughtUp(), 60_000);
  const drafts: readonly Draft[] = [
    { kind: "book-opened", body: { root: root.key, as: "club", name } },
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2020-01-01" } },
    { kind: "device-admitted", body: { device: device.key, role: "handicapper" } },
  ];
  for (const draft of drafts) {
    const saved = await opened.append([draft]);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  }
  await until("the relay has the new club", () => opened.waiting() === 0, 60_000);
  const pass: Pass = {
    v: 1,
    label: `${name} handicapper`,
    seed: base64url.encode(deviceSeed),
    club: { book, epochs: [{ epoch: 0, secret: base64url.encode(secret) }] },
    leagues: [],
  };
  return { book, root: opened, pass };
}
