/**
 * What a column of a results file can hold, the heading our own files give it, and the headings people give it. Headings are one
 * word of plain English each time, because a file outlives the language of the screen it was made at.
 *
 * Two columns of hoops are written, and "7-4" in one is only read: a spreadsheet turns 7-4 into the seventh of April.
 */

export const fieldNames = [
  "date",
  "start",
  "player",
  "handicap",
  "partner",
  "partnerHandicap",
  "opponent",
  "opponentHandicap",
  "opponentPartner",
  "opponentPartnerHandicap",
  "score",
  "hoops",
  "opponentHoops",
  "ended",
  "play",
  "format",
  "occasion",
  "event",
  "counts",
  "match",
  "game",
] as const;

export type FieldName = (typeof fieldNames)[number];

/** The seats of a line, own side first, with the field of each one's handicap. */
export const seatFields = [
  ["player", "handicap"],
  ["partner", "partnerHandicap"],
  ["opponent", "opponentHandicap"],
  ["opponentPartner", "opponentPartnerHandicap"],
] as const satisfies readonly (readonly [FieldName, FieldName])[];

/** As our own files are headed. */
export const headings: Readonly<Record<FieldName, string>> = {
  date: "date",
  start: "start",
  player: "player",
  handicap: "handicap",
  partner: "partner",
  partnerHandicap: "partner handicap",
  opponent: "opponent",
  opponentHandicap: "opponent handicap",
  opponentPartner: "opponent partner",
  opponentPartnerHandicap: "opponent partner handicap",
  score: "score",
  hoops: "hoops",
  opponentHoops: "opponent hoops",
  ended: "ended",
  play: "play",
  format: "points in a game",
  occasion: "occasion",
  event: "event",
  counts: "counts",
  match: "match",
  game: "game",
};

/** Other headings that can mean nothing else, as `headingKey` writes them. */
const synonyms: Readonly<Record<FieldName, readonly string[]>> = {
  date: ["day", "played", "played on", "date played", "match date", "game date"],
  start: ["time", "start time", "began", "started"],
  player: [
    "player 1",
    "player one",
    "player a",
    "name",
    "winner",
    "side a",
    "side 1",
    "home",
    "home player",
    "members",
  ],
  handicap: ["hcap", "hcp", "hc", "own handicap", "player handicap", "player 1 handicap", "winner handicap", "off"],
  partner: ["own partner", "player partner", "partner 1", "with"],
  partnerHandicap: ["partner hcap", "partner hcp", "partner 1 handicap"],
  opponent: [
    "player 2",
    "player two",
    "player b",
    "opponents",
    "loser",
    "side b",
    "side 2",
    "away",
    "away player",
    "v",
  ],
  opponentHandicap: ["opp handicap", "opp hcap", "opp hcp", "opponent hcap", "opponent hcp", "player 2 handicap"],
  opponentPartner: ["opponents partner", "opponent 2", "opp partner", "partner 2"],
  opponentPartnerHandicap: ["opponents partner handicap", "opponent 2 handicap", "partner 2 handicap"],
  score: ["result", "scores", "final score"],
  hoops: [
    "own score",
    "own hoops",
    "hoops for",
    "for",
    "score 1",
    "score a",
    "player score",
    "winner score",
    "points for",
  ],
  opponentHoops: ["opponent score", "opp score", "hoops against", "against", "score 2", "score b", "loser score"],
  ended: ["ending", "how it ended", "finish"],
  play: ["h l", "handicap or level", "kind of play", "h or l"],
  format: ["format", "length", "game length", "points per game", "best of points"],
  occasion: ["played as", "played for", "kind of match"],
  event: ["tournament", "competition", "event title"],
  counts: ["counted", "counting"],
  match: ["match number", "match no"],
  game: ["game number", "game no"],
};

/** Lower case, without accents and signs: "Opp. H'cap" is "opp hcap". */
export const headingKey = (heading: string): string =>
  heading
    .normalize("NFD")
    .replace(/\p{M}|['’]/gu, "")
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();

const byKey: ReadonlyMap<string, FieldName> = new Map(
  fieldNames.flatMap((field) => [headings[field], ...synonyms[field]].map((name) => [name, field] as const)),
);

/** What a heading says the column holds; undefined when it says nothing we know. */
export const fieldOfHeading = (heading: string): FieldName | undefined => byKey.get(headingKey(heading));
