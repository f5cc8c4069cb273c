/** The table of AU9, office by office and kind by kind, in real books. */
import type { Bodies, Kind } from "@sward/core";
import { digestOf } from "@sward/core";
import { describe, expect, test } from "vitest";
import type { Book, Pen } from "../../support/cast.ts";
import { clubs, event, fixture, keyOf, league, played, player } from "../../support/cast.ts";

const anEntry = digestOf("an entry");
const someone = keyOf("someone");

/** A body of each kind that nothing speaks against but the office. */
const bodies: { readonly [K in Kind]: Bodies[K] } = {
  "book-opened": { root: someone.publicKey, as: "club", name: "again" },
  "club-admitted": { club: someone.publicKey, name: "east" },
  "device-admitted": { device: someone.publicKey, role: "reader" },
  "device-barred": { device: keyOf("nobody").id, last: null },
  "rules-adopted": { rules: "england-2016", from: "2026-01-01" },
  "policy-set": { unconfirmed: "waits" },
  "player-joined": { player: player("ada"), standing: "visitor" },
  "player-left": { player: player("ada"), on: "2026-05-01" },
  "player-linked": { player: player("ada"), to: player("ben") },
  "event-opened": { event: event("cup"), title: "cup", occasion: "league", from: "2026-05-01", to: "2026-05-02" },
  "match-reported": played("2026-05-01", "ada 7", "ben 9", "7-4"),
  "handicap-set": { player: player("ada"), handicap: 7, from: "2026-05-01", basis: "initial", reason: "first" },
  "card-signed": {
    player: player("ada"),
    upto: "2026-05-01",
    handicap: 7,
    index: 1350,
    lines: 1,
    digest: anEntry,
    marks: "AAAA",
  },
  "ruling-made": { match: "slot:x:1", accepts: null, reason: "rained off" },
  "entry-withdrawn": { withdraws: anEntry, reason: "a slip" },
  "entry-carried": { from: clubs("south").south.id, key: someone.publicKey, entry: "never seen" },
  "record-part": { from: clubs("south").south.id, keys: [someone.publicKey], entries: ["never seen"] },
  "record-taken": {
    player: player("ada"),
    from: clubs("south").south.id,
    cutover: "2026-05-01",
    entries: 1,
    digest: anEntry,
    key: someone.publicKey,
    manifest: "never seen",
    parts: [anEntry],
  },
  "fixture-set": {
    fixture: fixture("first"),
    date: "2026-05-01",
    home: someone.id,
    away: someone.id,
    slots: [{ discipline: "singles", play: "level", format: 13 }],
  },
  "handicap-stated": { player: player("ada"), handicap: 7, index: 1350, on: "2026-05-01" },
  "league-rules-set": { rules: {}, from: "2026-05-01" },
  "lineup-named": { fixture: fixture("first"), club: someone.id, players: [{ player: player("ada"), off: 7 }] },
  "fixture-marked": { fixture: fixture("first"), as: "rained-off", reason: "a flood" },
  "change-proposed": { player: player("ada"), handicap: 5, on: "2026-05-01", reason: "watched at a match" },
  "change-answered": { proposal: anEntry, accepts: false, reason: "too early" },
  "epoch-opened": { number: 1, room: someone.publicKey, from: 0, without: [], boxes: [] },
};

type Table = Readonly<Record<Kind, string>>;

/** Initials of the offices that may; "-" where the kind has no place. R root, C club's root, H handicapper, W recorder. */
const inClub: Table = {
  "book-opened": "R",
  "club-admitted": "-",
  "device-admitted": "RH",
  "device-barred": "RH",
  "rules-adopted": "RH",
  "policy-set": "RH",
  "player-joined": "RHW",
  "player-left": "RH",
  "player-linked": "RH",
  "event-opened": "RH",
  "match-reported": "RHW",
  "handicap-set": "RH",
  "card-signed": "RH",
  "ruling-made": "RH",
  "entry-withdrawn": "RHW",
  "entry-carried": "RHW",
  "record-part": "RH",
  "record-taken": "RH",
  "fixture-set": "-",
  "handicap-stated": "-",
  "league-rules-set": "-",
  "lineup-named": "-",
  "fixture-marked": "-",
  "change-proposed": "RHW",
  "change-answered": "RH",
  "epoch-opened": "RH",
};

/** L the league's own handicapper, H a club's. */
const inLeague: Table = {
  "book-opened": "R",
  "club-admitted": "R",
  "device-admitted": "RCLH",
  "device-barred": "RCLH",
  "rules-adopted": "RL",
  "policy-set": "RL",
  "player-joined": "RCLHW",
  "player-left": "RCLH",
  "player-linked": "RCLH",
  "event-opened": "RCLH",
  "match-reported": "RCLHW",
  "handicap-set": "-",
  "card-signed": "-",
  "ruling-made": "RL",
  "entry-withdrawn": "RCLHW",
  "entry-carried": "RCLHW",
  "record-part": "-",
  "record-taken": "-",
  "fixture-set": "RL",
  "handicap-stated": "RCLH",
  "league-rules-set": "RL",
  "lineup-named": "RCLHW",
  "fixture-marked": "RCLHW",
  "change-proposed": "RCLHW",
  "change-answered": "RCLH",
  "epoch-opened": "RCLH",
};

/** Reasons that are about the entry and not about who made it. */
const notTheOffice = ["second-opening", "carried-copy-invalid", undefined];

function check(book: Book, pens: Readonly<Record<string, Pen>>, table: Table): void {
  for (const [kind, allowed] of Object.entries(table) as [Kind, string][]) {
    for (const [initial, pen] of Object.entries(pens)) {
      const { id } = pen.writes(kind, bodies[kind], null);
      const reason = book.state().uncounted.get(id);
      const place = `${kind} by ${initial}`;
      if (allowed === "-" && kind !== "book-opened") expect(reason, place).toBe("not-this-kind-of-book");
      else if (allowed.includes(initial)) expect(notTheOffice, place).toContain(reason);
      else expect(reason, place).toBe(kind === "book-opened" ? "second-opening" : "role-may-not");
    }
  }
}

describe("AU9 who may make what", () => {
  test("AU9 in a club's book", () => {
    const { north } = clubs("north");
    check(north, { R: north.root, H: north.handicapper, W: north.recorder, D: north.reader }, inClub);
  });

  test("AU9 in a league's book", () => {
    const { north } = clubs("north");
    const { league: border, roots, captains } = league("border", { north });
    const pens = {
      R: border.root,
      C: roots.north,
      L: border.root.admits("secretary", "handicapper"),
      H: captains.north,
      W: captains.north.admits("telephone", "recorder"),
      D: captains.north.admits("looker-on", "reader"),
    };
    check(border, pens, inLeague);
  });
});

test("AU10 a recorder has visitors join, not members", () => {
  const { north } = clubs("north");
  const visitor = north.recorder.joins("vera", "visitor");
  const member = north.recorder.joins("mona", "member");
  const state = north.state();
  expect(state.uncounted).toEqual(new Map([[member.id, "role-may-not"]]));
  expect([...state.players.keys()]).toEqual([player("vera")]);
  expect(visitor.entry.understood).toBe(true);
});
