/** Which relay a device dials when there are several. */
import { expect, test } from "vitest";
import type { OtherRelays } from "../../../packages/client/src/wire/connection.ts";
import { createRelays } from "../../../packages/client/src/wire/relays.ts";

/** Where a page keeps what it learned. */
function kept(): OtherRelays & { readonly all: Map<string, readonly string[]> } {
  const all = new Map<string, readonly string[]>();
  return {
    all,
    known: (relay) => all.get(relay) ?? [],
    learned: (relay, origins) => {
      all.set(relay, origins);
    },
  };
}

const [one, two, three] = ["https://one.example", "https://two.example", "https://three.example"] as const;

test("one that stands alone is dialled again and again", () => {
  const relays = createRelays(`${one}/`, undefined);
  expect(relays.current()).toBe(one);
  relays.next();
  relays.learn([one]);
  expect(relays.current()).toBe(one);
});

test("when it fails the others come in turn, and what they say of each other does not move us", () => {
  const relays = createRelays(one, undefined);
  relays.learn([two, three]);
  expect(relays.current()).toBe(one);
  relays.next();
  expect(relays.current()).toBe(two);
  relays.learn([one, three]);
  expect(relays.current()).toBe(two);
  const turns = [1, 2, 3].map(() => {
    relays.next();
    return relays.current();
  });
  expect(new Set(turns)).toEqual(new Set([one, two, three]));
});

test("what was learned is found by the next page, also when the first relay never answers it", () => {
  const store = kept();
  createRelays(one, store).learn([two, three]);
  expect(store.all).toEqual(new Map([[one, [two, three]]]));
  const later = createRelays(one, store);
  later.next();
  expect(later.current()).toBe(two);
  // One that is gone for good is forgotten.
  later.learn([one]);
  expect(store.all.get(one)).toEqual([two]);
});

test("only origins are taken, at most seven, and none without a seal where the first had one", () => {
  const store = kept();
  const many = Array.from({ length: 20 }, (_, place) => `https://relay-${place}.example`);
  const bad = [
    "http://plain.example",
    "https://two.example/path",
    "javascript:alert(1)",
    "wss://two.example",
    "nonsense",
    "",
  ];
  createRelays(one, store).learn([...bad, ...many]);
  expect(store.all.get(one)).toEqual(many.slice(0, 7));
  createRelays("http://127.0.0.1:1", store).learn(["http://127.0.0.1:2", two]);
  expect(store.all.get("http://127.0.0.1:1")).toEqual(["http://127.0.0.1:2", two]);
});
