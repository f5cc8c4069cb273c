/** Two corrections of one entry are put side by side in words, whatever kind of entry they correct. */
import type { Bodies, Kind, KnownEntry } from "@sward/core";
import { bodies, findLeagueRules } from "@sward/core";
import { expect, test } from "vitest";
import { rivalWords } from "../../../../packages/client/src/app/attention/rival-words.ts";
import { showDay } from "../../../../packages/client/src/app/dates.ts";
import { rivalsWords } from "../../../../packages/client/src/app/words/attention-seldom.ts";
import { event, fixture, keyOf, played, player } from "../../../support/cast.ts";

const [north, south] = [keyOf("north").id, keyOf("south").id];
const league = {
  clubs: new Map([
    [north, { club: north, name: "Thornfield" }],
    [south, { club: south, name: "Millbrook" }],
  ]),
};
const name = (id: string): string => (id === player("ada") ? "Ada Wren" : "Bo Linnet");

type Corrected = { [K in Kind]: "replaces" extends keyof Bodies[K] ? K : never }[Kind];
const samples: { readonly [K in Corrected]: readonly [Bodies[K], string] } = {
  "match-reported": [
    played("2026-05-02", "ada 7", "bo 9", "7-4"),
    `Bo Linnet v Ada Wren, ${showDay("2026-05-02")}, 4–7`,
  ],
  "handicap-set": [
    { player: player("ada"), handicap: 5, from: "2026-05-02", basis: "discretionary", reason: "watched" },
    "Ada Wren, Handicap 5: watched",
  ],
  "event-opened": [
    { event: event("cup"), title: "Cup", occasion: "calendar-event", from: "2026-05-02", to: "2026-05-03" },
    `Cup, ${showDay("2026-05-02")} – ${showDay("2026-05-03")}`,
  ],
  "fixture-set": [
    {
      fixture: fixture("f"),
      date: "2026-05-02",
      home: north,
      away: south,
      slots: [{ discipline: "singles", play: "level", format: 13 }],
    },
    `Thornfield v Millbrook, ${showDay("2026-05-02")}, 1 match`,
  ],
  "league-rules-set": [
    { rules: { ...findLeagueRules("even-games") }, from: "2026-01-01" },
    `League rules “${findLeagueRules("even-games")?.title}” from ${showDay("2026-01-01")}`,
  ],
  "lineup-named": [
    { fixture: fixture("f"), club: north, players: [{ player: player("ada"), off: 7 }] },
    "Team of Thornfield: Ada Wren (7)",
  ],
  "fixture-marked": [
    { fixture: fixture("f"), as: "postponed", to: "2026-06-01", reason: "wet" },
    `Postponed to ${showDay("2026-06-01")}: wet`,
  ],
  "change-proposed": [
    { player: player("bo"), handicap: 6, on: "2026-05-02", reason: "won four" },
    `Bo Linnet, handicap 6 proposed from ${showDay("2026-05-02")}: won four`,
  ],
};

const said = (kind: Kind, body: unknown): string =>
  rivalWords({ kind, body, understood: true } as unknown as KnownEntry, league, name);

test("every kind that can be corrected has words, and none shows its bare name", () => {
  const correctable = Object.entries(bodies).filter(([, body]) => "replaces" in body.shape);
  expect(correctable.map(([kind]) => kind).sort()).toEqual(Object.keys(samples).sort());
  for (const [kind, [body, words]] of Object.entries(samples)) {
    expect(said(kind as Kind, body)).toBe(words);
    expect(said(kind as Kind, body)).not.toContain(kind);
  }
  for (const as of ["conceded", "void", "rained-off"] as const)
    expect(said("fixture-marked", { fixture: fixture("f"), as, reason: "told" })).toMatch(/^[A-Z][a-z ]+: told$/);
  expect(said("policy-set", { unconfirmed: "waits" })).toBe(rivalsWords.other);
});
