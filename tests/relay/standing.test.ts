/** Which of several writes over the same state counts: the same for everybody, whenever he began to listen and whatever was erased. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { createStanding } from "../../packages/relay/src/standing.ts";

interface Message {
  readonly seq: number;
  readonly over: number;
}

/** What the room says to somebody who reads these from the first to the last. */
function readingOf(log: readonly Message[]): number {
  const standing = createStanding();
  for (const { seq, over } of log) standing.take({ form: "replaces", over, updates: [] }, seq);
  return standing.at();
}

const seed = 90210;

test(`RL16 of writes over the same state one counts, whoever reads when, and with what before it erased (seed ${seed})`, () => {
  let contests = 0;
  const step = fc.record({
    what: fc.constantFrom("write", "write", "hear", "hear", "erase", "restart"),
    who: fc.nat(3),
    some: fc.nat(255),
  });
  fc.assert(
    fc.property(fc.array(step, { maxLength: 60 }), (steps) => {
      /** Everything that was ever in the log, and what is left of it. */
      const all: Message[] = [];
      let left: Message[] = [];
      /** Four relays: how much of the log each has heard, and where it thinks the room stands. */
      const relays = [0, 1, 2, 3].map(() => ({ heard: 0, standing: createStanding() }));
      for (const { what, who, some } of steps) {
        const relay = relays[who];
        if (relay === undefined) continue;
        if (what === "write") {
          const message = { seq: all.length + 1, over: relay.standing.at() };
          if (all.some(({ over }) => over === message.over)) contests += 1;
          all.push(message);
          left.push(message);
        } else if (what === "hear") {
          const upTo = Math.min(all.length, relay.heard + 1 + (some % 3));
          for (const { seq, over } of all.slice(relay.heard, upTo))
            relay.standing.take({ form: "replaces", over, updates: [] }, seq);
          relay.heard = upTo;
          expect(relay.standing.at()).toBe(readingOf(all.slice(0, upTo)));
        } else if (what === "erase") {
          // In any order, and perhaps not to the end: the relay may die in the middle.
          const before = readingOf(all);
          left = left.filter(({ seq }) => seq >= before || ((some >> (seq % 8)) & 1) === 0);
        } else {
          // Knows only what is left.
          const standing = createStanding();
          for (const { seq, over } of left) standing.take({ form: "replaces", over, updates: [] }, seq);
          expect(standing.at()).toBe(readingOf(all));
          Object.assign(relay, { standing, heard: all.length });
        }
      }
      expect(readingOf(left)).toBe(readingOf(all));
      // Each that counts was made over the one that counted before it: nobody's change is passed over.
      const standing = createStanding();
      for (const { seq, over } of all) {
        const before = standing.at();
        expect(standing.take({ form: "replaces", over, updates: [] }, seq)).toBe(over === before);
      }
    }),
    { seed, numRuns: 2000 },
  );
  // Without writes over the same state the property would say nothing.
  expect(contests).toBeGreaterThan(1000);
  console.info(`standing: seed ${seed}, ${contests} writes over a state that somebody else had written over`);
});

test("RL16 what was added since stands in the way of a write that did not know of it", () => {
  const standing = createStanding();
  expect(standing.take({ form: "replaces", over: 0, updates: [] }, 3)).toBe(true);
  expect(standing.take({ form: "adds", over: 0, updates: [] }, 5)).toBe(true);
  expect(standing.take({ form: "replaces", over: 3, updates: [] }, 6)).toBe(false);
  expect(standing.at()).toBe(5);
  expect(standing.take({ form: "replaces", over: 5, updates: [] }, 7)).toBe(true);
  expect(standing.at()).toBe(7);
});
