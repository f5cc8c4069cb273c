/** What one caller, one address and one room may ask of a relay, counted with a clock of the test's own and over real sockets. */
import { closeCodes, roomPath } from "@sward/core";
import { expect, test } from "vitest";
import { addressOf, createAddresses, household } from "../../packages/relay/src/limits/addresses.ts";
import { createAllowance } from "../../packages/relay/src/limits/allowance.ts";
import { createBudget } from "../../packages/relay/src/limits/budget.ts";
import { newRoom, relayWith, tokenFor } from "../support/meeting.ts";
import { ending, enter } from "../support/plain-caller.ts";

test("an allowance gives so much at once and so much a second, and is not fooled by the clock", () => {
  const allowance = createAllowance(10, 2);
  expect([1, 2, 3].map(() => allowance.take(3, 0))).toEqual([0, 0, 0]);
  expect(allowance.take(3, 0)).toBe(1000);
  expect(allowance.take(3, 1000)).toBe(0);
  // Back in time: nothing is given, nothing is taken away.
  expect(allowance.take(1, 500)).toBe(500);
  expect(allowance.take(1, 1500)).toBe(0);
  // Never more than the burst, however long nothing came.
  expect(allowance.take(10, 1_000_000)).toBe(0);
  expect(allowance.take(1, 1_000_000)).toBe(500);
  // What is larger than the burst goes when all is saved up, and leaves a debt.
  expect(createAllowance(10, 2).take(30, 0)).toBe(0);
  const indebted = createAllowance(10, 2);
  indebted.take(30, 0);
  expect(indebted.take(1, 0)).toBe(10_500);
});

test("what has happened already is counted, and what is owed is paid off before anything else", () => {
  const allowance = createAllowance(10, 2);
  expect([4, 6].map((amount) => allowance.owe(amount, 0))).toEqual([0, 0]);
  expect(Array.from({ length: 5 }, () => allowance.owe(1, 0))).toEqual([500, 1000, 1500, 2000, 2500]);
  expect(allowance.owe(0, 1000)).toBe(1500);
  // A clock that was put back does not stop the paying off.
  expect(allowance.owe(0, -1_000_000)).toBe(1500);
  expect(allowance.owe(0, -998_500)).toBe(0);
  expect(allowance.take(1, -998_500)).toBe(500);
});

test("a budget lets in as much as there is, in the order of asking, and more than all as all", async () => {
  const budget = createBudget(10);
  const log: string[] = [];
  const ask = async (name: string, amount: number) => {
    const back = await budget.take(amount);
    log.push(name);
    return back;
  };
  const first = await ask("a", 6);
  const second = ask("b", 100);
  const third = ask("c", 1);
  await Promise.resolve();
  expect([log, budget.waiting]).toEqual([["a"], 2]);
  first();
  first();
  const all = await second;
  expect(log).toEqual(["a", "b"]);
  all();
  (await third)();
  expect([log, budget.waiting]).toEqual([["a", "b", "c"], 0]);
});

test("an address is counted by household: IPv4 whole, IPv4 in IPv6 as itself, IPv6 by its first half", () => {
  expect(["192.0.2.7", "::ffff:192.0.2.7"].map(household)).toEqual(["192.0.2.7", "192.0.2.7"]);
  const same = ["2001:db8:1:2::1", "2001:0db8:0001:0002:ffff:ffff:ffff:ffff", "2001:DB8:1:2:3:4:5:6%eth0"];
  expect(new Set(same.map(household))).toEqual(new Set(["2001:db8:1:2"]));
  expect([household("2001:db8:1:3::1"), household("::1"), household("2001:db8::")]).toEqual([
    "2001:db8:1:3",
    "0:0:0:0",
    "2001:db8:0:0",
  ]);
});

test("what a caller writes of its own address is believed only of our own proxies", () => {
  expect(addressOf("10.0.0.1", "6.6.6.6, 192.0.2.7", 0)).toBe("10.0.0.1");
  expect(addressOf("10.0.0.1", "6.6.6.6, 192.0.2.7", 1)).toBe("192.0.2.7");
  expect(addressOf("10.0.0.1", "6.6.6.6, 192.0.2.7, 10.0.0.2", 2)).toBe("192.0.2.7");
  expect(addressOf("10.0.0.1", undefined, 1)).toBe("10.0.0.1");
  expect(addressOf("10.0.0.1", "192.0.2.7", 3)).toBe("192.0.2.7");
});

test("addresses are forgotten when nothing is left to remember, and made-up ones fill no memory", () => {
  let now = 0;
  const addresses = createAddresses({ connections: 2, dials: 60 }, () => now);
  const leave = [addresses.enter("192.0.2.7"), addresses.enter("192.0.2.7")];
  expect(addresses.enter("192.0.2.7")).toBeNull();
  expect(addresses.enter("192.0.2.8")).not.toBeNull();
  leave[0]?.();
  leave[0]?.();
  expect(addresses.enter("192.0.2.7")).not.toBeNull();
  expect(addresses.enter("192.0.2.7")).toBeNull();
  for (let n = 0; n < 60; n += 1) expect(addresses.mayDial("192.0.2.9")).toBe(true);
  expect(addresses.mayDial("192.0.2.9")).toBe(false);
  now = 1_000;
  expect(addresses.mayDial("192.0.2.9")).toBe(true);
  for (let n = 0; n < 30_000; n += 1) addresses.mayDial(`10.${n >> 16}.${(n >> 8) & 255}.${n & 255}`);
  expect(addresses.size).toBeLessThan(10_010);
});

test("RL4 more connections from one address than it may have are told to try later, and one that asks too often to wait", async () => {
  const relay = await relayWith({ addressConnections: 2, addressDials: 10 });
  try {
    const room = await newRoom();
    const path = async () => `${roomPath("ledger", room.name)}?token=${await tokenFor(relay.origin, room, "ledger")}`;
    const inside = [await enter(relay.origin, room), await enter(relay.origin, room)];
    expect(await ending(relay.origin, await path())).toEqual({ code: closeCodes.tryLater, reason: "address-crowded" });
    expect(relay.events).toContainEqual({ type: "limited", room: `ledger/${room.name}`, limit: "address-connections" });
    await inside[0]?.close();
    (await enter(relay.origin, room)).socket.terminate();
    const answers: number[] = [];
    for (let n = 0; n < 10; n += 1) {
      answers.push((await fetch(`${relay.origin}${roomPath("ledger", room.name)}/nonce`)).status);
    }
    expect(answers.at(-1)).toBe(429);
    expect(answers[0]).toBe(200);
  } finally {
    await relay.close();
  }
});
