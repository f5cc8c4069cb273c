/** What a relay has of a club, byte by byte, and what it tells whoever runs it. */
import { createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId, Draft, PlayerId } from "@sward/core";
import { createMemoryStorage } from "@sward/relay";
import { expect, test } from "vitest";
import { deriveEpoch } from "../../packages/client/src/keys/book-keys.ts";
import { relayWith, until } from "../support/meeting.ts";
import { optionsFor } from "../support/two-clubs.ts";

const wait = (milliseconds: number): Promise<void> => new Promise((done) => setTimeout(done, milliseconds));

test("nothing a relay keeps or logs has a name, a key, a date or a kind of entry in it; it sees how many names there are, by random ids", async () => {
  const storage = createMemoryStorage("blind");
  const relay = await relayWith({}, storage);
  const root = await createSigner(systemRandom(32));
  const at = { book: root.id as string as BookId, root, secret: systemRandom(32) };
  const player = Buffer.from(systemRandom(16)).toString("base64url") as PlayerId;
  const book = await openBook(optionsFor(at, root, relay.origin));
  await until("the relay is met", () => book.caughtUp());
  const drafts: Draft[] = [
    { kind: "book-opened", body: { root: root.key, as: "club", name: "Larkhill" } },
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    { kind: "player-joined", body: { player, standing: "member" } },
  ];
  for (const draft of drafts) expect((await book.append([draft])).ok).toBe(true);
  await book.roster.write(new Map([[player, { name: "Ada Wren", short: "Ada W." }]]));
  await until("stored", () => book.waiting() === 0);
  const keys = await deriveEpoch(at.book, { epoch: 0, secret: at.secret });
  const roster = { kind: "roster", room: keys.rosterRoom.key } as const;
  const ledger = { kind: "ledger", room: keys.ledgerRoom.key } as const;
  type Key = Parameters<typeof storage.load>[0];
  const names = async () => storage.load(roster as unknown as Key);
  for (let tries = 0; tries < 200 && (await names()).length === 0; tries += 1) await wait(50);
  const kept = [...(await storage.load(ledger as unknown as Key)), ...(await names())];
  expect(kept.length).toBeGreaterThan(1);
  const bytes = `${Buffer.concat(kept).toString("latin1")} ${JSON.stringify(relay.events)}`;
  const words = ["Ada", "Wren", "Larkhill", "england", "member", "joined", "opened", "sward-entry", "2026-01-01"];
  const secrets = [root.id, root.key, Buffer.from(at.secret).toString("base64url")];
  const raw = Buffer.from(at.secret).toString("latin1");
  // In the open, and as base64url would show it at any of its three places.
  const veiled = words.flatMap((word) =>
    [0, 1, 2].map((at) =>
      Buffer.from(" ".repeat(at) + word)
        .toString("base64url")
        .slice(at === 0 ? 0 : at + 1, -2),
    ),
  );
  const found = [...words, ...secrets, raw, ...veiled.filter(({ length }) => length > 3)].filter((one) =>
    bytes.includes(one),
  );
  expect(found).toEqual([]);
  // The keys of the roster's map: what a relay needs to take an erased value away.
  expect(bytes).toContain(player);
  await book.close();
  await relay.close();
});
