/** What a ledger makes again when an entry comes, its digest, and what clubs state: work is counted, not timed. */
import type { Card, PlayerId } from "@sward/core";
import { digestOf } from "@sward/core";
import { expect, test } from "vitest";
import { Club, clubs, event, keyOf, keyOfMatch, league, Pen, played, player } from "../../support/cast.ts";
import { stateOf, stateText } from "../../support/state-text.ts";

/** Forty members, each of whom has played the next one. */
function bigClub() {
  const north = new Club("north");
  const names = Array.from({ length: 40 }, (_, place) => `member ${place}`.replace(" ", "-"));
  for (const name of names) north.member(name, 7);
  for (const [place, name] of names.entries()) {
    north.recorder.reports(played("2026-05-01", `${name} 7`, `${names[(place + 1) % 40]} 7`, "7-4"));
  }
  return { north, names };
}

test("RP36 saving one match makes again that match and its players' cards; every other card is the same object", () => {
  const { north, names } = bigClub();
  const ledger = north.ledger();
  const before = new Map<PlayerId, Card>(ledger.state().cards);
  const match = played("2026-05-02", `${names[3]} 7`, `${names[30]} 7`, "7-4");
  const touched = ledger.add([north.recorder.reports(match)]);
  const players = [player(names[3]!), player(names[30]!)];
  expect([...touched.matches]).toEqual([keyOfMatch(match)]);
  expect([...touched.players].sort()).toEqual([...players].sort());
  const changed = [...ledger.state().cards].filter(([id, card]) => before.get(id) !== card).map(([id]) => id);
  expect(changed.sort()).toEqual([...players].sort());
  expect(before.size).toBe(40);
});

test("RP36 so does correcting, withdrawing and ruling on one; a match that changes players reaches both pairs", () => {
  const { north, names } = bigClub();
  const ledger = north.ledger();
  const report = north.recorder.reports(played("2026-05-02", `${names[3]} 7`, `${names[30]} 7`, "7-4"));
  ledger.add([report]);
  const corrected = north.recorder.reports(played("2026-05-02", `${names[3]} 7`, `${names[31]} 7`, "7-4"), report);
  expect([...ledger.add([corrected]).players].sort()).toEqual([3, 30, 31].map((place) => player(names[place]!)).sort());
  expect(ledger.add([north.recorder.withdraws(corrected)]).players.size).toBe(3);
  expect(ledger.add([north.handicapper.sets(names[5]!, 5, "2026-05-03")])).toMatchObject({
    matches: new Set(),
    players: new Set([player(names[5]!)]),
  });
  const ruling = north.handicapper.rules(
    keyOfMatch(played("2026-05-01", `${names[0]} 7`, `${names[1]} 7`, "7-4")),
    null,
  );
  expect([...ledger.add([ruling]).players].sort()).toEqual([player(names[0]!), player(names[1]!)].sort());
  expect(stateText(ledger.state())).toBe(stateText(north.state()));
});

test("RP36 entries already held make nothing again, and the state stays the same object until a new one comes", () => {
  const { north } = bigClub();
  const ledger = north.ledger();
  const state = ledger.state();
  const touched = ledger.add(north.written);
  expect(touched.matches.size + touched.players.size).toBe(0);
  expect(ledger.state()).toBe(state);
  expect(ledger.state().questions).toBe(state.questions);
  ledger.add([north.reader.joins("vera", "visitor")]);
  expect(ledger.state()).not.toBe(state);
});

test("RP39 a change of an event's days makes its players' cards again, and no others", () => {
  const { north, names } = bigClub();
  const opened = north.handicapper.opens("cup", "2026-05-03", "2026-05-03");
  north.recorder.reports(
    played("2026-05-03", `${names[3]} 7`, `${names[30]} 7`, "7-4 7-4 7-4 7-4 7-4", { event: event("cup") }),
  );
  const ledger = north.ledger();
  const last = () => ledger.state().cards.get(player(names[3]!))?.lines.at(-1)?.moved;
  expect(last()).toMatchObject({ to: 6, after: "2026-05-03" });
  const touched = ledger.add([north.handicapper.opens("cup", "2026-05-03", "2026-05-05", { replaces: opened.id })]);
  expect([...touched.players].sort()).toEqual([player(names[3]!), player(names[30]!)].sort());
  expect(last()).toMatchObject({ to: 6, after: "2026-05-05" });
  expect(stateText(ledger.state())).toBe(stateText(north.state()));
});

test("RP35 the digest is that of the sorted entry ids, whatever counts and in whatever order they came", () => {
  const { north } = clubs("north");
  new Pen(north, keyOf("stranger")).joins("mallory");
  const ids = north.written.map(({ id }) => id);
  const digest = digestOf([...ids].sort().join("\n"));
  expect(north.ledger().digest()).toBe(digest);
  expect(north.ledger([...north.written, ...north.written].reverse()).digest()).toBe(digest);
  expect(north.ledger(north.written.slice(1)).digest()).not.toBe(digest);
  expect(north.empty().digest()).toBe(digestOf(""));
});

test("RP38 of a player's statements the one for the latest day holds, and for one day the last its author made", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const states = (pen: Pen, handicap: number, on: string) =>
    pen.writes("handicap-stated", { player: player("ada"), handicap, index: 1000, on });
  states(captains.north, 6, "2026-05-02");
  states(captains.north, 7, "2026-05-01");
  expect(stateOf(book).stated.get(player("ada"))).toMatchObject({ handicap: 6, club: north.root.id });
  for (const handicap of [5, 4, 9, 8]) {
    states(captains.north, handicap, "2026-05-02");
    expect(stateOf(book).stated.get(player("ada"))?.handicap).toBe(handicap);
  }
  const wrong = states(captains.south, 1, "2026-05-03");
  expect(stateOf(book).stated.get(player("ada"))).toMatchObject({ handicap: 1, club: south.root.id });
  captains.south.withdraws(wrong);
  expect(stateOf(book).stated.get(player("ada"))?.handicap).toBe(8);
});

test("RP38 for a player whose home is a club of the league no other club speaks", () => {
  const { north, south } = clubs("north", "south");
  const { league: book, captains } = league("border", { north, south });
  const states = (pen: Pen, handicap: number, on: string) =>
    pen.writes("handicap-stated", { player: player("ada"), handicap, index: 1000, on });
  captains.north.joins("ada", "visitor", { book: north.id });
  const own = states(captains.north, 6, "2026-05-01");
  states(captains.south, 1, "2026-05-02");
  expect(stateOf(book).stated.get(player("ada"))).toMatchObject({ handicap: 6, entry: own.id });
  states(book.root, 5, "2026-05-03");
  expect(stateOf(book).stated.get(player("ada"))).toMatchObject({ handicap: 5, club: null });
});
