/**
 * Rule files that come with the program, each modelled on published regulations: the facts are theirs, the wording and the names
 * are ours, and `gaps` says where a choice had to be made. They differ in nearly everything, which is why rules are data. A league
 * takes the nearest one and changes it; nothing here is any league's rules until its secretary has signed them.
 *
 * SPEC: LG1, LG4.
 */
import type { LeagueRules, SlotRule } from "./league-rules.ts";
import { parseLeagueRules } from "./league-rules.ts";

type Game = Pick<SlotRule, "play" | "format" | "bestOf">;

/** `1v3` is home 1 against away 3, `1+2v3+4` two pairs. */
const slots = (game: Game, pairings: string): SlotRule[] =>
  pairings.split(" ").map((pairing) => {
    const [home = "", away = ""] = pairing.split("v");
    const seats = (side: string): number[] => side.split("+").map(Number);
    return { ...game, home: seats(home), away: seats(away) };
  });

const handicap: Game = { play: "handicap", format: 13, bestOf: 1 };
const level: Game = { play: "level", format: 13, bestOf: 1 };
const nothing = { win: 0, draw: 0, loss: 0, slot: 0, game: 0, drawnGame: 0, hoop: 0 };
const noLimit = { least: null, most: null, totalAtLeast: null };

const ALL_MEET = "1v1 2v2 3v3 4v4 1v2 2v1 3v4 4v3 1v3 3v1 2v4 4v2 1v4 4v1 2v3 3v2";

const everyoneMeets: LeagueRules = {
  id: "everyone-meets",
  title: "Teams of four, everyone meets everyone, handicap play",
  sources: [
    {
      title: "GC Handicap League, Eastern Area, East Anglian Croquet Federation, 2013",
      url: "https://www.angliacroquet.uk/2013/gc_east_league.php",
    },
    {
      title: "GC leagues, East Anglian Croquet Federation, 2015",
      url: "https://angliacroquet.uk/2015/gc_leagues.php",
    },
  ],
  gaps: ["Which pairs meet in the two doubles was not read: 1 and 2 together, 3 and 4 together."],
  meetings: "once",
  team: {
    players: 4,
    order: "any",
    borrowed: 0,
    oneClub: true,
    reserves: { inFixture: null, inSeason: null },
  },
  handicaps: noLimit,
  slots: [...slots(handicap, ALL_MEET), ...slots(handicap, "1+2v1+2 3+4v3+4")],
  score: ["games"],
  points: { ...nothing, win: 2, draw: 1 },
  bonus: [],
  forfeit: { winner: 2, loser: 0, games: "none" },
  gameForfeited: "counts",
  unfinished: { some: "stands", none: "void" },
  oneReport: "counts",
  deadline: "09-30",
  reportWithin: 1,
  tieBreaks: ["head-to-head-points", "games-won"],
};

const hoopsDecide: LeagueRules = {
  ...everyoneMeets,
  id: "hoops-decide",
  title: "Level play, seven games, hoop difference decides ties",
  sources: [
    {
      title: "GC Open Level Play League, East Anglian Croquet Federation, 2018",
      url: "https://angliacroquet.uk/2018/gc_league_level.php",
    },
  ],
  gaps: ["Who meets whom in the seven games was not read: a doubles and six singles, best of three."],
  slots: [...slots({ ...level, bestOf: 3 }, "1+2v1+2"), ...slots({ ...level, bestOf: 3 }, "1v1 2v2 3v3 4v4 1v2 2v1")],
  score: ["slots", "games", "hoops"],
  deadline: "10-14",
  tieBreaks: ["hoops-difference"],
};

const threeEach: LeagueRules = {
  id: "three-each",
  title: "Ranked teams of four, three singles each, every pairing in doubles, level play",
  sources: [
    {
      title: "CN Golf Croquet League, 2017 Rules, Croquet North",
      url: "http://www.croquetnorth.org.uk/argclrules.php",
    },
    {
      title: "Regulations for all leagues, Croquet North",
      url: "https://croquetnorth.org.uk/regulations-for-all-leagues/",
    },
  ],
  gaps: [
    "Points for a match and the order of tie-breaks were not read: two for a win, then games won.",
    "A player whose card was false loses all games at the greatest score: entered as results, on the manager's ruling.",
  ],
  meetings: "once",
  team: {
    players: 4,
    order: "by-handicap",
    borrowed: 0,
    oneClub: true,
    reserves: { inFixture: 1, inSeason: null },
  },
  handicaps: noLimit,
  slots: [
    ...slots(level, "1v1 1v2 1v3 2v1 2v2 2v4 3v1 3v3 3v4 4v2 4v3 4v4"),
    ...slots(level, "1+2v1+2 3+4v3+4 1+3v1+3 2+4v2+4 1+4v1+4 2+3v2+3"),
  ],
  score: ["games", "hoops"],
  points: { ...nothing, win: 2, draw: 1 },
  bonus: [],
  forfeit: { winner: 2, loser: 0, games: "all" },
  gameForfeited: "counts",
  unfinished: { some: "stands", none: "void" },
  oneReport: "waits",
  deadline: "08-31",
  reportWithin: 7,
  tieBreaks: ["games-won", "head-to-head-points", "hoops-difference"],
};

const turnUp: LeagueRules = {
  id: "turn-up",
  title: "Teams of four, handicap play, a point for turning up",
  sources: [
    {
      title: "League Rules, South East Croquet Federation, 2024",
      url: "https://southeastcroquetfederation.org.uk/league-rules/",
    },
    {
      title: "Leagues, general, South East Croquet Federation",
      url: "http://southeastcroquet.org.uk/leaguegeneral.htm",
    },
    {
      title: "League Rules 2013, North West Federation (the handicap limit of its 2016 meeting)",
      url: "http://bowdoncroquet.trycroquet.co.uk/oldsite/public_html/Page_League_Rules.html",
    },
  ],
  gaps: [
    "The number of games is set league by league: four singles twice over and two doubles.",
    "How ties are broken was not read: games, then fixtures between the clubs, then hoops.",
    "Points for a draw were not read: two. The point for losing by one game is an example of a bonus and not theirs.",
    "How often one player may stand in was not read: three times.",
  ],
  meetings: "home-and-away",
  team: {
    players: 4,
    order: "by-handicap",
    borrowed: 1,
    oneClub: true,
    reserves: { inFixture: 2, inSeason: 3 },
  },
  handicaps: { least: null, most: 12, totalAtLeast: null },
  slots: [...slots(handicap, "1+2v1+2 3+4v3+4"), ...slots(handicap, "1v1 2v2 3v3 4v4 1v2 2v1 3v4 4v3")],
  score: ["games"],
  points: { ...nothing, win: 3, draw: 2, loss: 1 },
  bonus: [{ when: "lost-by-games-at-most", count: 1, points: 1 }],
  forfeit: { winner: 3, loser: 0, games: "none" },
  gameForfeited: "counts",
  unfinished: { some: "void", none: "void" },
  oneReport: "home-counts",
  deadline: "09-30",
  reportWithin: 7,
  tieBreaks: ["games-difference", "head-to-head-points", "hoops-difference"],
};

const evenGames: LeagueRules = {
  id: "even-games",
  title: "Evening teams of four, level play, every game a point",
  sources: [
    {
      title: "Golf croquet team league rules, Tunbridge Wells Croquet Club",
      url: "https://tunbridgewellscroquet.org.uk/golf-croquet-team-league-fraser-tankard-rules/",
    },
  ],
  gaps: ["Order of the games was not read: the doubles first."],
  meetings: "once",
  team: {
    players: 4,
    order: "any",
    borrowed: 4,
    oneClub: false,
    reserves: { inFixture: null, inSeason: null },
  },
  handicaps: noLimit,
  slots: [...slots(level, "1+2v1+2 3+4v3+4"), ...slots(level, "1v1 2v2 3v3 4v4")],
  score: ["games"],
  points: { ...nothing, game: 1 },
  bonus: [],
  forfeit: { winner: 6, loser: 0, games: "all" },
  gameForfeited: "counts",
  unfinished: { some: "even-games", none: "draw" },
  oneReport: "counts",
  deadline: null,
  reportWithin: null,
  tieBreaks: ["hoops-difference", "head-to-head-games"],
};

function checked(written: LeagueRules): LeagueRules {
  const result = parseLeagueRules(written);
  if (!result.ok) throw new Error(`league rules ${written.id}: ${JSON.stringify(result.fault)}`);
  return result.value;
}

/** In the order they are offered. Checked when first asked for, not when the program loads. */
export const writtenLeagueRules = (): readonly LeagueRules[] =>
  [everyoneMeets, threeEach, turnUp, evenGames, hoopsDecide].map(checked);

/** @param id such as `everyone-meets` */
export const findLeagueRules = (id: string): LeagueRules | undefined =>
  writtenLeagueRules().find((one) => one.id === id);
