/** What a link would change, told before it is saved, against what it then does change. */
import { expect, test } from "vitest";
import { previewOf } from "../../../../packages/client/src/app/visitors/link-preview.ts";
import { linkJudge, linksOf } from "../../../../packages/client/src/app/visitors/links-of.ts";
import { tellersOf } from "../../../../packages/client/src/app/visitors/told-by.ts";
import { wouldBe } from "../../../../packages/client/src/app/visitors/would-be.ts";
import { clubs, league, played, player } from "../../../support/cast.ts";
import { stateText } from "../../../support/state-text.ts";
import { deskOf, seen } from "./cast-desk.ts";

/** North wrote a game with a visitor; south wrote the same game, and north has south's slip. */
function scene() {
  const { north, south } = clubs("north", "south");
  north.member("ada", 7);
  north.recorder.joins("pip", "visitor", { club: "south" });
  north.recorder.reports(played("2026-05-01", "ada 7", "pip 6", "7-4"));
  north.recorder.reports(played("2026-05-08", "ada 7", "pip 6", "3-7"));
  const slip = south.recorder.reports(played("2026-05-01", "ada 7", "pip-at-home 6", "7-4"));
  north.recorder.carries(slip);
  north.recorder.carries(south.recorder.reports(played("2026-05-02", "ada 7", "rae 3", "7-4")), { verified: false });
  return { north, south, link: { player: player("pip"), to: player("pip-at-home") } };
}

test("the record as it would be is the record as it then is, byte for byte, copies that do not hold among it", () => {
  const { north, link } = scene();
  const would = wouldBe(seen(north, north.handicapper), [{ kind: "player-linked", body: link }]);
  const before = stateText(north.state());
  north.handicapper.links("pip", "pip-at-home");
  expect(stateText(would)).toBe(stateText(north.state()));
  expect(stateText(would)).not.toBe(before);
});

test("two clubs' records of one game become one, and the index that was moved twice is moved once", () => {
  const { north, link } = scene();
  const before = north.state();
  const after = wouldBe(seen(north, north.handicapper), [{ kind: "player-linked", body: link }]);
  const preview = previewOf(before, after, link.player);
  expect(preview.becomeOne.map(({ status, reports, facts }) => [facts?.date, status, reports.length])).toEqual([
    ["2026-05-01", "confirmed", 2],
  ]);
  expect(preview.becomeSeveral).toEqual([]);
  expect(preview.matches).toBe(2);
  // Handicap singles: ten points a game. 1350 + 10 + 10 - 10, then without one of the first two.
  expect(preview.cards).toEqual([
    {
      player: player("ada"),
      before: { handicap: 7, index: 1360, games: 3 },
      after: { handicap: 7, index: 1350, games: 2 },
    },
  ]);
});

test("undoing tells the same backwards, and gives everything back", () => {
  const { north, link } = scene();
  const plain = north.state();
  const written = north.handicapper.links("pip", "pip-at-home");
  const linked = north.state();
  const draft = { kind: "entry-withdrawn", body: { withdraws: written.id, reason: "not the same" } } as const;
  const preview = previewOf(linked, wouldBe(seen(north, north.handicapper), [draft]), link.player);
  expect(preview.becomeSeveral).toHaveLength(1);
  expect(preview.becomeOne).toEqual([]);
  expect(preview.cards[0]).toMatchObject({ before: { index: 1350 }, after: { index: 1360 } });
  north.handicapper.withdraws(written);
  const bare = (state: typeof plain) => stateText({ ...state, entries: 0, devices: new Map() });
  const { stated, fixtures, questions, uncounted } = plain;
  expect(bare({ ...north.state(), stated, fixtures, questions, uncounted })).toBe(
    bare({ ...plain, stated, fixtures, questions, uncounted }),
  );
});

test("accounts that then disagree are said to be held, and a card under a new id is the same card", () => {
  const { north, south } = clubs("north", "south");
  north.member("ada", 7);
  north.recorder.joins("pip", "visitor");
  north.recorder.reports(played("2026-05-01", "ada 7", "pip 6", "7-4"));
  north.recorder.carries(south.recorder.reports(played("2026-05-01", "ada 7", "pip-at-home 6", "4-7")));
  const with_ = (from: string, to: string) =>
    previewOf(
      north.state(),
      wouldBe(seen(north, north.handicapper), [
        { kind: "player-linked", body: { player: player(from), to: player(to) } },
      ]),
      player(from),
    );
  expect(with_("pip", "pip-at-home").becomeOne.map(({ status }) => status)).toEqual(["held"]);
  expect(with_("pip", "pip-at-home").cards).toEqual([
    {
      player: player("ada"),
      before: { handicap: 7, index: 1350, games: 2 },
      after: { handicap: 7, index: 1350, games: 0 },
    },
  ]);
  expect(with_("ada", "ada elsewhere").cards).toEqual([]);
});

test("the links of a person, with who made each, under whatever id one asks", () => {
  const { north, link } = scene();
  expect(linksOf(deskOf(seen(north, north.handicapper)), link.player)).toEqual([]);
  const first = north.handicapper.links("pip", "pip-at-home");
  const second = north.root.links("pip-too", "pip");
  const desk = deskOf(seen(north, north.handicapper));
  const wanted = new Set([first.id, second.id]);
  expect(new Set(linksOf(desk, link.to).map(({ entry }) => entry))).toEqual(wanted);
  expect(new Set(linksOf(desk, player("pip-too")).map(({ entry }) => entry))).toEqual(wanted);
  expect(linksOf(desk, link.player).find(({ entry }) => entry === first.id)?.by).toBe(north.handicapper.id);
  north.handicapper.withdraws(second);
  expect(linksOf(desk, link.player).map(({ entry }) => entry)).toEqual([first.id]);
});

test("refused where a league knows what the club's book does not: another home club", () => {
  const { north, south, west } = clubs("north", "south", "west");
  const { league: book, captains } = league("border", { north, south, west });
  captains.west.joins("wyn", "visitor", { book: west.id });
  captains.south.joins("pip", "visitor", { book: south.id });
  north.recorder.joins("pip", "visitor", { book: south.id });
  north.recorder.joins("by name", "visitor", { club: "south" });
  const judge = linkJudge(deskOf(seen(north, north.handicapper), seen(book, captains.north)));
  const link = (one: string, other: string) => judge({ player: player(one), to: player(other) });
  expect(link("pip", "wyn")).toEqual({ type: "link-two-homes", homes: [south.id, west.id] });
  expect(link("by name", "wyn")).toBeNull();
  expect(link("by name", "pip")).toBeNull();
  expect(link("by name", "by name")).toMatchObject({ type: "link-self" });
});

test("a match told by more than one says whose word it rests on and where it came from; our own single word needs no saying", () => {
  const { north, south, link } = scene();
  const { league: book, captains } = league("border", { north, south });
  const report = captains.south.reports(played("2026-06-01", "ada 7", "pip-at-home 6", "7-4"));
  north.recorder.carries(report);
  north.handicapper.links("pip", "pip-at-home");
  const desk = deskOf(seen(north, north.handicapper), seen(book, captains.north));
  const { matches } = north.state();
  const told = (day: string) =>
    tellersOf(
      desk,
      [...matches.values()].find(({ facts }) => facts?.date === day && facts.sides.flat().length === 2),
      (device) => (device === north.recorder.id ? "the pavilion" : "a device"),
    );
  expect([...told("2026-05-01")].sort()).toEqual(["south", "the pavilion"]);
  expect(told("2026-06-01")).toEqual(["south, in the border"]);
  expect(told("2026-05-08")).toEqual([]);
  expect(link.player).toBe(player("pip"));
});
