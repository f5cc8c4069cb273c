/** Parts of a page are drawn in an order of their own, each in a task of its own. */
import { expect, test } from "vitest";
import { inTurn } from "../../../packages/client/src/app/turns.ts";

test("the screen comes before the number, and the number before the rest, whoever asked first; one a task", async () => {
  const seen: string[] = [];
  await new Promise<void>((done) => {
    const say = (what: string) => () => {
      seen.push(what);
      // What one of them asks for has its place among what still waits.
      if (what === "screen 1") inTurn("screen", say("screen 2"));
      // Within the same task nothing more comes.
      const had = seen.length;
      queueMicrotask(() => expect(seen.length).toBe(had));
      if (what === "rest 2") done();
    };
    inTurn("rest", say("rest 1"));
    inTurn("number", say("number"));
    inTurn("screen", say("screen 1"));
    inTurn("rest", say("rest 2"));
    expect(seen).toEqual([]);
  });
  expect(seen).toEqual(["screen 1", "screen 2", "number", "rest 1", "rest 2"]);
});
