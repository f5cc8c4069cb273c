import type { KeyId, PlayerId } from "@sward/core";
import { checkMatch } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { checkForm } from "../../../../packages/client/src/app/entry/check.ts";
import { newForm, withSeat } from "../../../../packages/client/src/app/entry/form.ts";
import { knownPeople } from "../../../../packages/client/src/app/entry/people.ts";
import { rulesOnDay } from "../../../../packages/client/src/app/entry/rules-on.ts";
import { apply, newState, replay } from "../../../../packages/client/src/app/lawn/game.ts";
import type { Pad, PadEvent, PadSetup } from "../../../../packages/client/src/app/lawn/pad.ts";
import type { PadStorage } from "../../../../packages/client/src/app/lawn/pad-store.ts";
import { padStoreOf } from "../../../../packages/client/src/app/lawn/pad-store.ts";
import { formFromPad, gamesOf, withRecord } from "../../../../packages/client/src/app/lawn/report.ts";
import { newSetup, setupOf } from "../../../../packages/client/src/app/lawn/setup-form.ts";
import type { Wakefulness } from "../../../../packages/client/src/app/lawn/wake-lock.ts";
import { stayAwake } from "../../../../packages/client/src/app/lawn/wake-lock.ts";
import { clubInMemory, TODAY } from "../entry/club-in-memory.ts";
import { anyEvent, anySetup, hoopTo, played, singles, take, tapped } from "./games.ts";

const device = "thisdevice" as KeyId;

/** A browser's storage that is full after so many characters. */
function storageOf(room = 1_000_000): PadStorage & { readonly held: Map<string, string> } {
  const held = new Map<string, string>();
  return {
    held,
    get length() {
      return held.size;
    },
    key: (at) => [...held.keys()][at] ?? null,
    getItem: (key) => held.get(key) ?? null,
    removeItem: (key) => void held.delete(key),
    setItem(key, value) {
      if (value.length > room) throw new DOMException("full", "QuotaExceededError");
      held.set(key, value);
    },
  };
}

const padOf = (id: string, setup: PadSetup, events: PadEvent[], change: Partial<Pad> = {}): Pad => ({
  v: 1,
  id,
  begun: 5,
  setup,
  events,
  saved: false,
  ...change,
});

test("pads are kept per device, the last begun first, and thrown away one by one", () => {
  const storage = storageOf();
  const store = padStoreOf(device, storage);
  expect(store.write(padOf("pad-a", singles(), [played], { begun: 1 }))).toBe(true);
  expect(store.write(padOf("pad-b", singles(), [], { begun: 2 }))).toBe(true);
  padStoreOf("another" as KeyId, storage).write(padOf("pad-c", singles(), []));
  storage.held.set(`sward/lawn/${device}/broken`, "{");
  expect(store.list().map(({ id }) => id)).toEqual(["pad-b", "pad-a"]);
  expect(store.read("pad-a")?.events).toEqual([played]);
  store.drop("pad-a");
  expect([store.read("pad-a"), store.list().length]).toEqual([null, 1]);
});

test("a tap that could not be kept is told, and what was kept before is still there", () => {
  const store = padStoreOf(device, storageOf(700));
  expect(store.write(padOf("pad-a", singles(), [played]))).toBe(true);
  expect(
    store.write(
      padOf(
        "pad-a",
        singles(),
        Array.from({ length: 40 }, () => played),
      ),
    ),
  ).toBe(false);
  expect(store.read("pad-a")?.events).toEqual([played]);
});

test("taps that cannot follow each other are left off from the first of them on", () => {
  const storage = storageOf();
  const store = padStoreOf(device, storage);
  store.write(padOf("pad-a", singles(), [played, take, played]));
  expect(store.read("pad-a")?.events).toEqual([played]);
});

test("of pads whose match is saved the last ten are kept, and all that are in hand", () => {
  const store = padStoreOf(device, storageOf());
  for (let at = 0; at < 14; at++) store.write(padOf(`pad-${at}`, singles(), [], { begun: at, saved: at % 14 !== 0 }));
  store.write(padOf("pad-new", singles(), [], { begun: 99 }));
  const ids = store.list().map(({ id }) => id);
  expect(ids).toEqual(["pad-new", ...Array.from({ length: 10 }, (_, at) => `pad-${13 - at}`), "pad-0"]);
});

test("seed 8123: what is read after a reload is what was tapped, and makes a match that can be", () => {
  const ids = ["a", "b", "c", "d"].map((letter) => letter.repeat(22) as PlayerId);
  let reported = 0;
  const law = fc.property(anySetup, fc.array(anyEvent, { maxLength: 150, size: "max" }), (setup, wished) => {
    let state = newState(setup);
    const events: PadEvent[] = [];
    const store = padStoreOf(device, storageOf());
    for (const event of wished) {
      const next = apply(setup, state, event);
      if (!next.ok) continue;
      state = next.value;
      events.push(event);
      store.write(padOf("pad-a", setup, events));
    }
    const read = store.read("pad-a") ?? padOf("pad-a", setup, []);
    expect(replay(read.setup, read.events)).toEqual({ state, kept: events.length });
    if (gamesOf(state).length === 0) return;
    reported += 1;
    const form = formFromPad(read, state, { date: TODAY, occasion: "ad-hoc", event: null });
    const side = (from: number) =>
      setup.sides[from === 0 ? 0 : 1].map((_, at) => ({ player: ids[from + at]!, off: 5 }));
    const games = form.games.map(({ score, ending }) => ({
      score: [Number(score[0]), Number(score[1])] as [number, number],
      ...(ending === "played-out" ? {} : { ended: ending }),
    }));
    const plain = { date: TODAY, occasion: "ad-hoc", n: 1, play: setup.play, format: setup.format, games } as const;
    const body = withRecord({ ...plain, games, sides: [side(0), side(2)] }, setup, state);
    expect(checkMatch(body)).toBe(null);
    for (const { score, hoops } of body.games) {
      expect([hoops?.filter((one) => one === 0).length, hoops?.filter((one) => one === 1).length]).toEqual(score);
    }
  });
  fc.assert(law, { seed: 8123, numRuns: 200 });
  console.info(`seed 8123: ${reported} reports`);
  expect(reported).toBeGreaterThan(40);
});

const club = await clubInMemory([
  { name: "Bea Fairlamb", handicap: 7 },
  { name: "Carl Underhill", handicap: 9 },
]);
const rules = rulesOnDay(club.book.state(), TODAY);

function seatedForm() {
  const kept = { date: TODAY, occasion: null, event: null, play: "handicap", format: 13, doubles: false } as const;
  const bea = withSeat(newForm(kept), 0, { player: club.id("Bea"), text: "Bea Fairlamb", off: "7" });
  return withSeat(bea, 2, { player: club.id("Carl"), text: "Carl Underhill", off: "9" });
}

test("a pad set up by handicaps hands out the rules' extra strokes, and its report carries what was kept", () => {
  const setup = setupOf(newSetup(seatedForm()), rules) as PadSetup;
  expect(setup.sides.map((side) => side.map(({ given }) => given))).toEqual([[0], [2]]);
  const events = [played, played, take, hoopTo(0), ...Array.from({ length: 6 }, () => hoopTo(0))];
  const state = tapped(setup, ...events);
  const form = formFromPad({ setup }, state, { date: TODAY, occasion: "club-competition", event: null });
  const people = new Map(knownPeople(club.desk).map((person) => [person.player, person]));
  const checked = checkForm(form, { state: club.book.state(), today: TODAY, rules, people });
  if (!checked.ok) throw new Error(JSON.stringify(checked.fault));
  const body = withRecord(checked.value.body, setup, state);
  expect(body.games).toEqual([{ score: [7, 0], hoops: [0, 0, 0, 0, 0, 0, 0], taken: [{ side: 1, seat: 0, hoop: 1 }] }]);
  expect(body.given).toEqual([[0], [2]]);
});

test("a person who writes another score knows better: of the record goes what fits, and nothing with another kind of game", () => {
  const setup = singles([0, 1]);
  const state = tapped(setup, ...Array.from({ length: 7 }, () => hoopTo(0)));
  const base = { date: TODAY, occasion: "ad-hoc", n: 1, play: "handicap", format: 13 } as const;
  const one = [{ player: club.id("Bea"), off: 7 }];
  const two = [{ player: club.id("Carl"), off: 8 }];
  const other = withRecord({ ...base, sides: [one, two], games: [{ score: [7, 1] }] }, setup, state);
  expect(other.games).toEqual([{ score: [7, 1], taken: [] }]);
  const short = withRecord({ ...base, format: 7, sides: [one, two], games: [{ score: [4, 0] }] }, setup, state);
  expect([short.games, short.given]).toEqual([[{ score: [4, 0] }], undefined]);
});

test("without handicaps the extra strokes are as written, and what is no number is told", () => {
  const kept = { date: TODAY, occasion: null, event: null, play: "handicap", format: 13, doubles: false } as const;
  const form = { ...newSetup(newForm(kept)), typed: ["", "", "4", ""] as const };
  expect((setupOf(form, rules) as PadSetup).sides.map(([seat]) => seat?.given)).toEqual([0, 4]);
  const wrong = { ...form, typed: ["x", "", "61", ""] as const, limited: true, minutes: "0", turns: "8" };
  expect(setupOf(wrong, rules)).toEqual([
    { field: "given-0", type: "not-a-count", text: "x" },
    { field: "given-2", type: "not-a-count", text: "61" },
    { field: "minutes", type: "not-a-count", text: "0" },
  ]);
});

test("the screen is kept awake, asked for again when the page is seen again, and let go in the end", async () => {
  const told: Wakefulness[] = [];
  let release: (() => void) | undefined;
  let [asked, released] = [0, 0];
  let seen: (() => void) | undefined;
  const sight = {
    visibilityState: "visible",
    addEventListener: (_: string, run: () => void) => {
      seen = run;
    },
    removeEventListener: () => {
      seen = undefined;
    },
  };
  const maker = {
    request: async () => {
      asked += 1;
      if (asked === 3) throw new Error("battery low");
      return {
        release: async () => {
          released += 1;
        },
        addEventListener: (_: string, run: () => void) => {
          release = run;
        },
      };
    },
  };
  const settled = () => new Promise((resolve) => setTimeout(resolve, 0));
  const end = stayAwake(maker, sight, (state) => told.push(state));
  await settled();
  sight.visibilityState = "hidden";
  release?.();
  sight.visibilityState = "visible";
  seen?.();
  await settled();
  expect(told).toEqual(["asking", "awake", "asking", "asking", "awake"]);
  release?.();
  seen?.();
  await settled();
  expect(told.slice(5)).toEqual(["refused", "asking", "refused"]);
  seen?.();
  await settled();
  expect(told.at(-1)).toBe("awake");
  end();
  await settled();
  expect([released, seen]).toEqual([1, undefined]);
  const without: Wakefulness[] = [];
  stayAwake(undefined, sight, (state) => without.push(state));
  expect(without).toEqual(["not-here"]);
});
