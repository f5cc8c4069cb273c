/**
 * A device whose storage was lost has read the room that the club has left, while the script that knows where a club goes on is still on
 * its way. Some of its own chain lies in the next room: it may not write. A real relay; only the script's coming is held up.
 */
import { setTimeout as sleep } from "node:timers/promises";
import type { Book } from "@sward/client";
import { openWire } from "@sward/client";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { openMovingBook } from "../../../packages/client/src/book/moving-book.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith } from "../../support/meeting.ts";
import { forgetful, optionsFor, until } from "../../support/two-clubs.ts";
import { barOf, epochClub, hastyDeps, number, players, ready, save, visitor } from "./epoch-club.ts";

const script = vi.hoisted(() => {
  let come = (): void => undefined;
  const coming = new Promise<void>((resolve) => {
    come = resolve;
  });
  return { coming, come: () => come(), isHeld: false };
});
vi.mock(import("../../../packages/client/src/book/following.ts"), async (importOriginal) => {
  const own = await importOriginal();
  return {
    ...own,
    async createFollowing(moves) {
      if (script.isHeld) await script.coming;
      return own.createFollowing(moves);
    },
  };
});

let relay: TestRelay;
const open = new Set<Book>();
beforeEach(async () => {
  relay = await relayWith();
});
afterEach(async () => {
  script.come();
  for (const book of open) await book.close();
  await relay.close();
});

test("nothing is signed on what there is of its chain before it is known where the club goes on", async () => {
  const club = await epochClub(relay, { ada: "handicapper", ben: "recorder" });
  const before = await club.open("ada");
  open.add(before);
  await ready(before);
  await save(before, visitor(1), barOf(before, club.keyId("ben")));
  await until("the club has moved", () => number(before) === 1 && before.lock().due === null);
  await save(before, visitor(2));
  await ready(before);
  await before.close();
  open.delete(before);

  script.isHeld = true;
  const book = await openMovingBook({
    ...optionsFor(club.book, club.devices["ada"]!.signer, relay.origin, forgetful()),
    relay: { url: relay.origin, open: openWire, deps: hastyDeps },
  });
  open.add(book);
  await until("the first room is read", () => {
    const state = book.connection();
    return state.type === "live" && state.synced && players(book) === "1";
  });
  // And taken in to its end, of which nothing else tells.
  await sleep(300);
  expect(book.caughtUp()).toBe(false);
  expect(await book.append([visitor(9)])).toEqual({ ok: false, fault: { type: "not-caught-up" } });
  script.come();
  await ready(book);
  await until("all is here", () => players(book) === "1 2");
  await save(book, visitor(9));
  await ready(book);
  expect(book.state().devices.get(book.device)?.forkedAt).toBe(null);
});
