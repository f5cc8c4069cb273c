/** A relay that says nothing for more than thirty seconds: in a file of its own, for it needs a clock that can be put on. */
import { expect, test, vi } from "vitest";

// y-websocket takes hold of `Date.now` when it is loaded, so the clock must be ours before that.
const clock = vi.hoisted(() => {
  const real = Date.now;
  const ours = { ahead: 0 };
  Date.now = () => real() + ours.ahead;
  return ours;
});

const { newRoom, relayWith, until, wired } = await import("../../support/meeting.ts");

test("RL1 RL9 a relay that falls silent is dialled again with a new token, never with the old one", async () => {
  const relay = await relayWith({ pulseMilliseconds: 25_000 });
  const { wire } = wired(relay.origin, await newRoom());
  await until("synced", () => JSON.stringify(wire.state()) === JSON.stringify({ type: "live", synced: true }));
  await new Promise((done) => setTimeout(done, 100));
  const states: string[] = [];
  wire.subscribe(() => states.push(wire.state().type));
  // Every 3 seconds it looks whether the last frame is more than 30 seconds old.
  clock.ahead = 40_000;
  await until("noticed", () => states.includes("connecting"));
  await until("live again", () => wire.state().type === "live");
  expect(relay.events.filter(({ type }) => type === "turned-away")).toEqual([]);
  await wire.close();
  await relay.close();
});
