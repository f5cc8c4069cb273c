/** Clocks that jump and clocks that differ: what is stored and who may enter must not depend on them. */
import { roomPath } from "@sward/core";
import { createMemoryStorage, defaultConfig, startRelay } from "@sward/relay";
import { afterEach, expect, test } from "vitest";
import { envelope, numberOf } from "../support/envelopes.ts";
import { newRoom, random, tokenFor, until, wired } from "../support/meeting.ts";
import { dial, ending } from "../support/plain-caller.ts";

const open: { close(): Promise<unknown> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});

const day = 86_400_000;

test("RL1 RL6 a relay whose clock jumps years ahead and back: whoever is in stays, whoever comes gets in, all is receipted", async () => {
  let jump = 0;
  const relay = await startRelay(defaultConfig({ port: 0, app: null, pulseMilliseconds: 1000 }), {
    storage: createMemoryStorage("jumping"),
    now: () => Date.now() + jump,
    random,
    log: () => undefined,
  });
  open.push(relay);
  const origin = `http://127.0.0.1:${relay.port}`;
  const room = await newRoom();
  const stays = wired(origin, room);
  open.push(stays.wire);
  await until("live", () => stays.wire.state().type === "live");
  let number = 0;
  for (const days of [400, -400, 3650, -3650, 0.04, -0.04, 0]) {
    jump = days * day;
    stays.entries.push([envelope(number)]);
    number += 1;
    await until(`receipted, ${days} days off`, () => stays.wire.stored().get(stays.doc.clientID) === number);
    // The device's own clock is right, so it differs from the relay's by the jump.
    const comes = wired(origin, room);
    await until(`let in, ${days} days off`, () => comes.entries.length === number);
    comes.wire.pause();
    comes.wire.resume();
    await until(`let in again, ${days} days off`, () => comes.wire.state().type === "live");
    await comes.wire.close();
    // Health is remembered for a second of the relay's clock; a jump back must not keep an old answer for years.
    const health = (await (await fetch(`${origin}/health`)).json()) as { ok: boolean; connections: number };
    expect(health.ok).toBe(true);
  }
  expect(stays.wire.state()).toEqual({ type: "live", synced: true });
  expect(stays.entries.toArray().map(numberOf)).toEqual([0, 1, 2, 3, 4, 5, 6]);
});

test("RL1 a nonce given before the clock jumped ahead is stale, one that was used before it jumped back stays used", async () => {
  let jump = 0;
  const relay = await startRelay(defaultConfig({ port: 0, app: null }), {
    storage: createMemoryStorage("nonces"),
    now: () => Date.now() + jump,
    random,
    log: () => undefined,
  });
  open.push(relay);
  const origin = `http://127.0.0.1:${relay.port}`;
  const room = await newRoom();
  const path = (token: string): string => `${roomPath("ledger", room.name)}?token=${token}`;
  const early = await tokenFor(origin, room, "ledger");
  jump = day;
  expect(await ending(origin, path(early))).toEqual({ code: 4401, reason: "token-stale" });
  jump = 0;
  const used = await tokenFor(origin, room, "ledger");
  const caller = await dial(origin, path(used));
  await until("in", () => caller.frames.length > 0);
  jump = -30_000;
  expect(await ending(origin, path(used))).toEqual({ code: 4401, reason: "token-stale" });
  await caller.close();
});
