/** Starting a league: the same three steps as for a club. */
import { foundLeague } from "../../desk/league-office.ts";
import { foundLeagueWords, officeName } from "../words/found-league.ts";
import type { FoundingKind } from "./found-screen.tsx";
import { Founding } from "./found-screen.tsx";

const leagues: FoundingKind = {
  said: foundLeagueWords,
  keeps: false,
  found: (seed, league, ...rest) => foundLeague(seed, league, officeName(league.name), ...rest),
};

export const FoundLeagueScreen = () => <Founding kind={leagues} />;
