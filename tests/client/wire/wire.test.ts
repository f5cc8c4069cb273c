/** Wires against a real relay, over real sockets. */

import { afterEach, expect, test } from "vitest";
import { envelope } from "../../support/envelopes.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { newRoom, relayWith, until, wired } from "../../support/meeting.ts";

const open: { close(): Promise<void> }[] = [];
afterEach(async () => {
  for (const one of open.splice(0).reverse()) await one.close();
});
const relay = async (...given: Parameters<typeof relayWith>): Promise<TestRelay> => {
  const made = await relayWith(...given);
  open.push(made);
  return made;
};
const join = (...given: Parameters<typeof wired>) => {
  const made = wired(...given);
  open.push(made.wire);
  return made;
};

test("two devices exchange, and both hear what is stored", async () => {
  const { origin } = await relay();
  const room = await newRoom();
  const north = join(origin, room);
  const south = join(origin, room);
  north.entries.push([envelope(1), envelope(2)]);
  south.entries.push([envelope(3)]);
  await until("both have three", () => north.entries.length === 3 && south.entries.length === 3);
  await until(
    "both heard",
    () => south.wire.stored().get(north.doc.clientID) === 2 && north.wire.stored().get(south.doc.clientID) === 1,
  );
  expect(north.wire.state()).toEqual({ type: "live", synced: true });
  expect(north.wire.refusals()).toEqual([]);
});
