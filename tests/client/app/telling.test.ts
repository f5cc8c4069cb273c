/** When screens are told of a change: once a moment, sooner for what the record says than for what is known round it. */
import { expect, test } from "vitest";
import { holdTelling, tellNow, tellSoon } from "../../../packages/client/src/app/telling.ts";

const turn = (after = 0): Promise<void> => new Promise((done) => setTimeout(done, after));

test("changes of one moment are told once, at its end", async () => {
  let told = 0;
  const tell = (): void => {
    told += 1;
  };
  for (let n = 0; n < 5; n += 1) tellSoon(tell);
  expect(told).toBe(0);
  await turn(1);
  expect(told).toBe(1);
  tellSoon(tell);
  await turn(1);
  expect(told).toBe(2);
});

test("a change of the record does not wait for what may: both are told with it, and nothing after", async () => {
  const told: string[] = [];
  const told_ = (what: string) => (): void => void told.push(what);
  tellSoon(told_("receipt"), true);
  tellSoon(told_("another receipt"), true);
  tellSoon(told_("game"));
  tellSoon(told_("third receipt"), true);
  await turn(1);
  expect(told).toEqual(["game"]);
  await turn(60);
  expect(told).toEqual(["game"]);
});

test("what may wait is told all the same", async () => {
  await new Promise<void>((done) => tellSoon(done, true));
});

test("who ends the moment himself has it told there and then, and not once more; with nothing to tell nothing happens", async () => {
  let told = 0;
  tellNow();
  for (const mayWait of [true, false]) {
    tellSoon(() => {
      told += 1;
    }, mayWait);
    tellNow();
    tellNow();
  }
  expect(told).toBe(2);
  await turn(60);
  expect(told).toBe(2);
});

test("who has something to say first holds the moment, and what comes meanwhile is told with it when it is ended", async () => {
  let told = 0;
  const tell = (): void => {
    told += 1;
  };
  tellSoon(tell);
  holdTelling();
  await turn(20);
  tellSoon(tell);
  tellSoon(tell, true);
  await turn(60);
  expect(told).toBe(0);
  tellNow();
  expect(told).toBe(1);
  await turn(60);
  expect(told).toBe(1);
  // The next moment is as long as any.
  tellSoon(tell);
  await turn(1);
  expect(told).toBe(2);
});
