/** What is handed over about one person, and what is forgotten beside the record: with a real book. */
import type { Book } from "@sward/client";
import { createSigner, openBook, systemRandom } from "@sward/client";
import type { BookId, Draft, KeyId, PlayerId } from "@sward/core";
import { bodies, decodeEntry } from "@sward/core";
import { afterEach, beforeEach, expect, test } from "vitest";
import { keepRound, readRound } from "../../../../packages/client/src/app/check/kept-round.ts";
import { padStoreOf } from "../../../../packages/client/src/app/lawn/pad-store.ts";
import { nameIn, rosterRecordOf } from "../../../../packages/client/src/app/names.ts";
import { aboutPage } from "../../../../packages/client/src/app/person/about-page.ts";
import { aboutPerson } from "../../../../packages/client/src/app/person/about-person.ts";
import { forgetHere } from "../../../../packages/client/src/app/person/forget-here.ts";
import { wordsNaming } from "../../../../packages/client/src/app/person/typed-words.ts";
import { erasePerson } from "../../../../packages/client/src/desk/erase.ts";
import { createVerifier } from "../../../../packages/client/src/keys/verifier.ts";
import { optionsFor, TODAY } from "../../../support/two-clubs.ts";

const id = (fill: number): PlayerId => Buffer.alloc(16, fill).toString("base64url") as PlayerId;
const [ada, adaAsVisitor, bo, cass] = [id(1), id(2), id(3), id(4)];
let book: Book;
let tablet: KeyId;

const match = (one: PlayerId, other: PlayerId, date: string): Draft => ({
  kind: "match-reported",
  body: {
    date,
    occasion: "club-competition",
    n: 1,
    play: "handicap",
    format: 13,
    sides: [[{ player: one, off: 8 }], [{ player: other, off: 8 }]],
    games: [{ score: [7, 3] }],
  },
});

beforeEach(async () => {
  const root = await createSigner(systemRandom(32));
  const device = await createSigner(systemRandom(32));
  tablet = device.id;
  book = await openBook(optionsFor({ book: root.id as string as BookId, root, secret: systemRandom(32) }, root, null));
  const done = [
    await book.append([{ kind: "book-opened", body: { root: root.key, as: "club", name: "Testers <& Co>" } }]),
    await book.append([
      { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
      { kind: "device-admitted", body: { device: device.key, role: "recorder" } },
      ...[ada, bo, cass].flatMap((player): Draft[] => [
        { kind: "player-joined", body: { player, standing: "member" } },
        {
          kind: "handicap-set",
          body: {
            player,
            handicap: 8,
            from: "2026-04-01",
            basis: "initial",
            reason: player === ada ? "as Wren asked" : "start",
          },
        },
      ]),
      { kind: "player-joined", body: { player: adaAsVisitor, standing: "visitor" } },
      { kind: "player-linked", body: { player: adaAsVisitor, to: ada } },
      match(ada, bo, "2026-05-01"),
      match(bo, cass, "2026-05-02"),
      match(cass, adaAsVisitor, "2026-05-03"),
    ]),
  ];
  expect(done.map(({ ok }) => ok)).toEqual([true, true]);
  await book.roster.write(
    new Map<PlayerId | KeyId, { name: string; short: string; device?: string }>([
      [ada, { name: "Ada <b>Wren", short: "Ada W." }],
      [bo, { name: "Bo Linnet", short: "Bo L." }],
      [cass, { name: "Cass Thorley", short: "Cass T." }],
      [tablet, { name: "Ada <b>Wren", short: "Ada W.", device: "phone" }],
    ]),
  );
});

afterEach(() => book.close());

const about = () =>
  aboutPerson(
    { club: book, leagues: [] },
    { player: ada, on: TODAY, note: "a </script> note", tell: (line) => `${line.line} line` },
  );

test("it has the person's names, card, matches, links, devices, and every entry that names the person, checkable; and no others", async () => {
  const [club] = about().books;
  expect(about().ids).toEqual([ada, adaAsVisitor]);
  expect(club?.names).toEqual([{ of: ada, name: "Ada <b>Wren", short: "Ada W." }]);
  expect(club?.card?.lines.map(({ date, told }) => [date, told])).toEqual([
    ["2026-04-01", "set line"],
    ["2026-05-01", "game line"],
    ["2026-05-03", "game line"],
  ]);
  expect(club?.matches.map(({ date, sides }) => [date, sides.flat().sort()])).toEqual([
    ["2026-05-01", ["Ada W.", "Bo L."]],
    ["2026-05-03", ["Ada W.", "Cass T."]],
  ]);
  expect(club?.devices).toMatchObject([{ device: tablet, role: "recorder", name: "Ada <b>Wren (phone)" }]);
  // Against a plain reading of the record: all entries whose text has one of the ids.
  const expected = [...book.entries()].filter(({ jws }) => {
    const text = Buffer.from(jws.split(".")[1] ?? "", "base64url").toString();
    return text.includes(ada) || text.includes(adaAsVisitor);
  });
  expect(expected.length).toBe(6);
  expect(club?.entries.map((one) => one.id).sort()).toEqual(expected.map((one) => one.id).sort());
  const verifier = createVerifier();
  for (const { signed, kind, id: entry } of club?.entries ?? []) {
    const decoded = decodeEntry(signed);
    if (!decoded.ok) throw new Error(decoded.fault.type);
    const key = book.keyOf(decoded.value.author);
    if (key !== undefined) verifier.learn(key);
    expect([decoded.value.id, decoded.value.kind, await verifier.verify(signed, decoded.value.author)]).toEqual([
      entry,
      kind,
      true,
    ]);
  }
});

test("the page is one file, with nothing in it that a name could break, and the same as data", () => {
  const page = aboutPage(about());
  expect(page).not.toContain("<b>");
  expect(page).not.toContain("Testers <&");
  expect(page.match(/<script/g)?.length).toBe(1);
  expect(page.match(/<\/script>/g)?.length).toBe(1);
  const data = /<script type="application\/json" id="data">(.*?)<\/script>/s.exec(page)?.[1] ?? "";
  expect(JSON.parse(data)).toEqual(JSON.parse(JSON.stringify(about())));
  expect(page).toContain("Cass T.");
  expect(page).not.toContain("Cass Thorley");
});

test("once erased, every place that shows a name says the player has withdrawn; cards are the same, byte for byte", async () => {
  const cards = JSON.stringify([...book.state().cards]);
  const desk = { club: book, leagues: [] };
  const done = await erasePerson(desk, { players: [ada, adaAsVisitor], devices: [tablet] }, "asked");
  expect(done).toEqual({ erased: [book.id], left: [] });
  expect([ada, adaAsVisitor, bo].map((one) => nameIn(desk, one))).toEqual([
    "Player withdrawn",
    "Player withdrawn",
    "Bo Linnet",
  ]);
  expect([rosterRecordOf(desk, ada), book.roster.get(tablet)]).toEqual([undefined, undefined]);
  expect(JSON.stringify([...book.state().cards])).toBe(cards);
  const [club] = about().books;
  expect(club?.names).toEqual([]);
  expect(club?.erased.map(({ of, reason }) => [of, reason])).toEqual([
    [ada, "asked"],
    [adaAsVisitor, "asked"],
  ]);
  expect(aboutPage(about())).not.toMatch(/Ada W|Wren[^ ]/);
  // Again changes nothing, and says nothing was done.
  expect(await erasePerson(desk, { players: [ada], devices: [] }, "asked")).toEqual({ erased: [], left: [] });
});

test("a name the club erased is not shown from a league's roster that still has it", () => {
  const withName = { get: () => ({ name: "Ada Wren", short: "Ada W." }) };
  const state = () => ({ players: new Map() });
  const league = { state, roster: withName };
  expect(nameIn({ club: { state, roster: { get: () => undefined } }, leagues: [league] }, ada)).toBe("Ada Wren");
  const club = { state, roster: { get: () => undefined, erased: () => ({}) } };
  expect(nameIn({ club, leagues: [league] }, ada)).toBe("Player withdrawn");
});

test("typed words that name the person are found, by any part of the name, and others are not", () => {
  expect(wordsNaming(book.counted(), ["Ada Wren"])).toEqual(["as Wren asked"]);
  expect(wordsNaming(book.counted(), ["Bo Ask"])).toEqual([]);
  // The members that are looked at are those a person types: a kind with another one has to be added.
  const typed = new Set(["reason", "title", "name", "club"]);
  const strings = Object.entries(bodies).flatMap(([kind, shape]) =>
    Object.entries(
      (shape as { def: { shape: Record<string, { def: { type: string; innerType?: { def: { type: string } } } }> } })
        .def.shape,
    )
      .filter(([name, { def }]) => typed.has(name) && (def.innerType?.def.type ?? def.type) === "string")
      .map(([name]) => `${kind}.${name}`),
  );
  expect(strings).toContain("handicap-set.reason");
});

test("a pad's name and a round's note of somebody who was erased are forgotten, and others' are kept", () => {
  const rows = new Map<string, string>();
  const storage = {
    getItem: (key: string) => rows.get(key) ?? null,
    setItem: (key: string, value: string) => void rows.set(key, value),
    removeItem: (key: string) => void rows.delete(key),
    key: (at: number) => [...rows.keys()][at] ?? null,
    get length() {
      return rows.size;
    },
  };
  const seat = (player: PlayerId, name: string) => ({ player, name, off: "8", given: 0 });
  const pads = padStoreOf(book.device, storage);
  pads.write({
    v: 1,
    id: "pad-one",
    begun: 1,
    saved: false,
    setup: {
      format: 13,
      play: "handicap",
      doubles: false,
      sides: [[seat(ada, "Ada Wren")], [seat(bo, "Bo Linnet")]],
      first: 0,
      leads: [0, 0],
      colours: "primary",
      limit: null,
      slot: null,
    },
    events: [],
  });
  keepRound(storage, book.device, book.id, {
    begun: TODAY,
    cards: [ada, bo],
    at: 0,
    notes: { [ada]: "Wren is away", [bo]: "fine" },
    was: {},
  });
  expect(pads.list().length).toBe(1);
  forgetHere(storage, book.device, book.id, new Set<string>([ada]));
  expect(pads.read("pad-one")?.setup.sides.map(([one]) => one?.name)).toEqual(["", "Bo Linnet"]);
  expect(readRound(storage, book.device, book.id)?.notes).toEqual({ [bo]: "fine" });
  expect([...rows.values()].join()).not.toContain("Wren");
});
