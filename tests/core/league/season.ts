/**
 * A league with its rules, three clubs and their players, written as real entries: for tests of what a book comes to.
 *
 *     const season = openSeason(findLeagueRules("even-games")!);
 *     const day = season.sets("first", "2026-05-10", "north", "south");
 *     season.reports(day, 1, "7-4", "north");
 *     season.table();
 */
import type {
  Bodies,
  Day,
  FixtureId,
  KeyId,
  LeagueBook,
  LeagueRules,
  LeagueTable,
  Lineup,
  MatchReported,
  Outcome,
} from "@sward/core";
import { fixtureOutcome, fixtureSlots, leagueRulesOn, tableOf, viewLeague } from "@sward/core";
import type { Book, Club, Pen, Written } from "../../support/cast.ts";
import { clubs, fixture, league, played, player } from "../../support/cast.ts";

export const CLUBS = ["north", "south", "west"] as const;
export type ClubName = (typeof CLUBS)[number];

export interface FixtureCast {
  readonly id: FixtureId;
  readonly day: Day;
  readonly home: ClubName;
  readonly away: ClubName;
}

/** Handicaps of a club's first to sixth player. */
export const OFFS = [2, 5, 7, 9, 11, 12] as const;

export const nameOf = (club: ClubName, seat: number): string => `${club} ${seat}`;
export const lineup = (club: ClubName, seat: number): Lineup => ({
  player: player(nameOf(club, seat)),
  off: OFFS[seat - 1] ?? 12,
});

export class Season {
  readonly rules: LeagueRules;
  readonly book: Book;
  readonly secretary: Pen;
  readonly captains: Readonly<Record<ClubName, Pen>>;
  readonly roots: Readonly<Record<ClubName, Pen>>;
  readonly clubs: Readonly<Record<ClubName, Club>>;

  constructor(rules: LeagueRules, players = 6) {
    this.rules = rules;
    this.clubs = clubs(...CLUBS);
    const { league: book, captains, roots } = league("border", this.clubs);
    this.book = book;
    this.roots = roots;
    this.captains = captains;
    this.secretary = book.root.admits("secretary", "handicapper");
    book.root.adopts("england-2016");
    this.secretary.writes("league-rules-set", { rules: { ...rules }, from: "2026-01-01" });
    for (const club of CLUBS) {
      for (let seat = 1; seat <= players; seat++) {
        const home = { book: this.clubs[club].id };
        captains[club].joins(nameOf(club, seat), "visitor", home);
      }
    }
  }

  keyOf(club: ClubName): KeyId {
    return this.clubs[club].root.id;
  }

  sets(name: string, day: Day, home: ClubName, away: ClubName): FixtureCast {
    const id = fixture(name);
    this.secretary.writes("fixture-set", {
      fixture: id,
      date: day,
      home: this.keyOf(home),
      away: this.keyOf(away),
      slots: fixtureSlots(this.rules),
    });
    return { id, day, home, away };
  }

  /** What a club says of a slot: scores home first, played off the club's handicaps. */
  match(at: FixtureCast, slot: number, scores: string, more: Partial<MatchReported> = {}): MatchReported {
    const rule = this.rules.slots[slot - 1];
    if (rule === undefined) throw new Error(`no slot ${slot}`);
    const told = played(at.day, "x 1", "y 1", scores, { play: rule.play, format: rule.format, occasion: "league" });
    const side = (club: ClubName, seats: readonly number[]) => seats.map((seat) => lineup(club, seat));
    const sides: MatchReported["sides"] = [side(at.home, rule.home), side(at.away, rule.away)];
    return { ...told, slot: { fixture: at.id, number: slot }, sides, ...more };
  }

  reports(at: FixtureCast, slot: number, scores: string, ...by: readonly (ClubName | "league")[]): Written[] {
    const match = this.match(at, slot, scores);
    return by.map((who) => (who === "league" ? this.secretary : this.captains[who]).reports(match));
  }

  names(at: FixtureCast, club: ClubName, seats: readonly number[], by: Pen = this.captains[club]): Written {
    const players = seats.map((seat) => lineup(club, seat));
    return by.writes("lineup-named", { fixture: at.id, club: this.keyOf(club), players });
  }

  marks(by: Pen, at: FixtureCast, as: Bodies["fixture-marked"]["as"], more: { by?: KeyId; to?: Day } = {}): Written {
    return by.writes("fixture-marked", { fixture: at.id, as, reason: "told by the captains", ...more });
  }

  view(written: readonly Written[] = this.book.written): LeagueBook {
    const ledger = this.book.ledger(written);
    return viewLeague({ state: ledger.state(), counted: ledger.counted() });
  }

  outcomes(written: readonly Written[] = this.book.written): Outcome[] {
    const state = this.book.ledger(written).state();
    return this.view(written).fixtures.map((one) => fixtureOutcome(this.rules, one, state));
  }

  outcome(at: FixtureCast): Outcome {
    const found = this.outcomes().find(({ fixture: id }) => id === at.id);
    if (found === undefined) throw new Error("no such fixture");
    return found;
  }

  table(written: readonly Written[] = this.book.written): LeagueTable {
    const rules = leagueRulesOn(this.view(written), "2026-12-31") ?? this.rules;
    return tableOf(rules, this.outcomes(written), this.book.ledger(written).state().clubs.keys());
  }
}

export const openSeason = (rules: LeagueRules, players?: number): Season => new Season(rules, players);
