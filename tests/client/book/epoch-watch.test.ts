/** Among what arrives the few entries that bear on a book's epochs are noticed, and what was looked at is not gone through again. */
import type { KeyId } from "@sward/core";
import { expect, test } from "vitest";
import { createEpochWatch } from "../../../packages/client/src/book/epoch-watch.ts";
import type { HeldEntry } from "../../../packages/client/src/book/vault.ts";
import type { Written } from "../../support/cast.ts";
import { Club, played } from "../../support/cast.ts";

/** A book that holds what was written, and counts how often an entry is handed out. */
function holding() {
  const entries = new Map<string, HeldEntry>();
  let handed = 0;
  return {
    add(...all: readonly Written[]) {
      for (const { id, jws, entry } of all) entries.set(id, { id, jws, understood: entry.understood, place: null });
    },
    handed: () => handed,
    book: {
      since(many: number): readonly HeldEntry[] {
        const all = [...entries.values()].slice(many);
        handed += all.length;
        return all;
      },
      held: () => entries.size,
    },
  };
}

function club() {
  const north = new Club("north");
  north.member("ada", 7, { index: 1390 });
  north.member("ben", 9);
  for (let n = 0; n < 50; n += 1) north.recorder.reports(played("2026-05-02", "ada 7", "ben 9", "7-4", { n: n + 1 }));
  return north;
}

test("of a long record a change has only what came handed out; a device that is admitted bears on the epochs, a game does not", () => {
  const north = club();
  const held = holding();
  held.add(...north.written);
  const watch = createEpochWatch("here" as KeyId);
  watch.know(held.book, []);
  const game = north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "7-4"));
  held.add(game);
  expect(watch.bears(held.book)).toBe(false);
  const before = held.handed();
  held.add(north.recorder.reports(played("2026-05-04", "ada 7", "ben 9", "7-4")));
  expect(watch.bears(held.book)).toBe(false);
  expect(watch.bears(held.book)).toBe(false);
  const barred = north.root.bars(north.recorder, game);
  held.add(north.recorder.reports(played("2026-05-05", "ada 7", "ben 9", "7-4")), barred);
  expect(watch.bears(held.book)).toBe(true);
  expect(held.handed() - before).toBe(3);
  expect(watch.bears(held.book)).toBe(false);
});

test("a book that was opened anew is looked at from where the other one was", () => {
  const north = club();
  const [one, other] = [holding(), holding()];
  one.add(...north.written);
  const watch = createEpochWatch("here" as KeyId);
  watch.know(one.book, []);
  expect(watch.bears(one.book)).toBe(false);
  other.add(...north.written);
  const game = north.recorder.reports(played("2026-05-03", "ada 7", "ben 9", "7-4"));
  other.add(north.root.bars(north.recorder, game));
  expect(watch.bears(other.book)).toBe(true);
  expect(watch.bears(other.book)).toBe(false);
});
