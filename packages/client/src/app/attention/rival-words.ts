/** A correction as words, for putting two of one entry side by side. Pure; names are handed in. */
import type { BookState, KeyId, KnownEntry } from "@sward/core";
import { matchFacts } from "@sward/core";
import { showDay } from "../dates.ts";
import { rivalsWords as rivals } from "../words/attention-seldom.ts";
import { number, words } from "../words.ts";
import type { NameOf } from "./accounts.ts";
import { gamesWords, playersWords } from "./accounts.ts";

/** What a correction says, for the kinds that can be corrected. */
export function rivalWords(entry: KnownEntry, league: Pick<BookState, "clubs">, nameOf: NameOf): string {
  switch (entry.kind) {
    case "match-reported": {
      const facts = matchFacts(entry.body, (id) => id);
      return `${playersWords(facts, nameOf)}, ${showDay(facts.date)}, ${gamesWords(facts.games)}`;
    }
    case "handicap-set":
      return `${nameOf(entry.body.player)}, ${words.handicap} ${number(entry.body.handicap)}: ${entry.body.reason}`;
    case "event-opened":
      return `${entry.body.title}, ${showDay(entry.body.from)} – ${showDay(entry.body.to)}`;
    case "fixture-set":
      return rivals.fixture(clubsOf(entry.body, league), entry.body.date, entry.body.slots.length);
    case "league-rules-set":
      return rivals.leagueRules(titleOf(entry.body.rules), entry.body.from);
    case "lineup-named":
      return rivals.team(
        clubNamed(entry.body.club, league),
        entry.body.players.map(({ player, off }) => `${nameOf(player)} (${number(off)})`).join(", "),
      );
    case "fixture-marked":
      return rivals.marked[entry.body.as](entry.body.reason, entry.body.to ?? null);
    case "change-proposed":
      return rivals.proposed(nameOf(entry.body.player), entry.body.handicap, entry.body.on, entry.body.reason);
    default:
      return rivals.other;
  }
}

const clubNamed = (club: KeyId, { clubs }: Pick<BookState, "clubs">): string =>
  clubs.get(club)?.name ?? rivals.someClub;

const clubsOf = (
  { home, away }: { readonly home: KeyId; readonly away: KeyId },
  league: Pick<BookState, "clubs">,
): string => [home, away].map((club) => clubNamed(club, league)).join(` ${words.versus} `);

/** Rules of a later version are kept unread. */
const titleOf = ({ title }: Readonly<Record<string, unknown>>): string => (typeof title === "string" ? title : "");
