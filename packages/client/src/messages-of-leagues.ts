/** The part of the table of sentences that is about leagues: rules, fixtures, teams, what is said of a fixture, links and proposals. */
import type { LeagueFault, PlayerCodeFault } from "@sward/core";
import type { LeagueCliFault } from "./cli/faults.ts";
import type { JoinFault } from "./desk/join-league.ts";
import type { Messages } from "./message.ts";

export type FaultOfLeagues =
  | LeagueFault
  | PlayerCodeFault
  | LeagueCliFault
  | Extract<JoinFault, { readonly type: `league-${string}` }>;

const askSecretary = "Ask the league's secretary.";

export const messagesOfLeagues: Messages<FaultOfLeagues> = {
  "league-without-club": ({ league }) => ({
    what: `${league} does not have this club yet.`,
    why: "The league's secretary admits the club by its root key; that entry has not come here.",
    todo: "Ask the secretary for the answer once more, as a file, or wait until the relay has it.",
  }),
  "league-needs-words": () => ({
    what: "The club's words are needed.",
    why: "The first device of a club is admitted to a league by the club's own key.",
    todo: "Write the words from the paper; or ask a handicapper whose device is in the league already to take this device's code.",
  }),
  "league-rules-form": ({ at, problem }) => ({
    what: at === "" ? "These are not a league's rules." : `The league's rules cannot be read at "${at}".`,
    why: `The form there is not one this version knows (${problem}).`,
    todo: "Correct that place, or begin from one of the rule files that come with the program.",
  }),
  "league-rules-seats": ({ slot }) => ({
    what: `Match ${slot} of the rules is not one against one or two against two.`,
    why: "Each side has one place for singles, or two different ones for doubles.",
    todo: "Name one place a side, or two.",
  }),
  "league-rules-no-such-seat": ({ slot, seat, players }) => ({
    what: `Match ${slot} of the rules names place ${seat}.`,
    why: `A team has ${players} ${players === 1 ? "player" : "players"}.`,
    todo: "Name a place the team has, or make the team larger.",
  }),
  "league-rules-limits": ({ least, most }) => ({
    what: `The lowest handicap allowed is ${least} and the highest ${most}.`,
    why: "Nobody could play.",
    todo: "Turn the two round.",
  }),
  "league-rules-twice": ({ of }) => ({
    what: `"${of}" is listed twice.`,
    why: "What did not tell two clubs apart the first time will not the second.",
    todo: "Take one of them out.",
  }),
  "fixtures-too-few-clubs": ({ clubs }) => ({
    what: clubs === 1 ? "There is one club." : "There is no club.",
    why: "Fixtures are between two clubs.",
    todo: "Admit the clubs first.",
  }),
  "fixtures-club-twice": () => ({
    what: "One club is drawn twice.",
    why: "It would have to meet itself.",
    todo: "Take it out once.",
  }),
  "fixtures-days": ({ days, rounds }) => ({
    what: `There ${days === 1 ? "is 1 day" : `are ${days} days`} for ${rounds} rounds.`,
    why: "Each round has a day of its own; single fixtures can be moved afterwards.",
    todo: `Give ${rounds} days.`,
  }),
  "fixture-same-club": () => ({
    what: "Home and away are the same club.",
    why: "A fixture is between two.",
    todo: "Choose another club for one of them.",
  }),
  "fixture-unknown-club": () => ({
    what: "One of the clubs is not in this league.",
    why: "A league's secretary admits each club by its root key.",
    todo: "Admit the club first, or choose one that is.",
  }),
  "fixture-duplicate": ({ day }) => ({
    what: `These two clubs have this fixture already, on ${day}.`,
    why: "The league's rules give them one such meeting in a season.",
    todo: "Postpone the one there is, or call it void first.",
  }),
  "team-unknown-fixture": () => ({
    what: "There is no such fixture.",
    why: "It was taken back, or the league's record here is not the latest.",
    todo: `Let this device meet the relay, or take the league's record by file. ${askSecretary}`,
  }),
  "team-unknown-club": () => ({
    what: "This club does not play in that fixture.",
    why: "A team is named for the home club or for the visitors.",
    todo: "Choose one of the two clubs.",
  }),
  "team-unknown-player": () => ({
    what: "One of the players is not known in this league.",
    why: "A team can name only players their club has entered.",
    todo: "Enter the player first.",
  }),
  "team-count": ({ players, wanted }) => ({
    what: `There are ${players} players in the team.`,
    why: `The league's teams have ${wanted}.`,
    todo: `Name ${wanted}.`,
  }),
  "team-player-twice": () => ({
    what: "One player is in the team twice.",
    why: "A person has one place, under whatever name.",
    todo: "Choose somebody else for one of the places.",
  }),
  "team-player-elsewhere": () => ({
    what: "One of the players is in another team that day.",
    why: "Nobody can play for two teams on one day.",
    todo: "Choose somebody else, or have the other team named anew.",
  }),
  "team-order": ({ seat, off, before }) => ({
    what: `Place ${seat} has handicap ${off}, and the place before it ${before}.`,
    why: "In this league teams stand in the order of handicaps, the lowest first.",
    todo: "Put them in order; players of one handicap may stand either way.",
  }),
  "team-reserve-not-in-team": () => ({
    what: "A reserve is not in the team.",
    why: "Reserves are those of the team who stand in for somebody.",
    todo: "Put the player into the team, or take the mark away.",
  }),
  "team-handicap-not-in-table": ({ off, rules }) => ({
    what: `There is no handicap ${off} in ${rules}.`,
    why: "Extra strokes are worked out only from handicaps in the trigger table.",
    todo: "Correct the handicap.",
  }),
  "team-of-another-club": () => ({
    what: "This device does not write for that club.",
    why: "Each club names its own team.",
    todo: `Leave it to the other captain. ${askSecretary}`,
  }),
  "mark-unknown-fixture": () => ({
    what: "There is no such fixture.",
    why: "It was taken back, or the league's record here is not the latest.",
    todo: "Let this device meet the relay, or take the league's record by file.",
  }),
  "mark-may-not": ({ as }) => ({
    what: as === "conceded" ? "This club cannot concede that." : "This device may not say that of the fixture.",
    why: "A club speaks of its own fixtures and concedes for itself; only the league calls one void.",
    todo: askSecretary,
  }),
  "slot-unknown": ({ number, slots }) => ({
    what: slots === 0 ? "There is no such fixture." : `The fixture has no match ${number}.`,
    why: slots === 0 ? "It was taken back, or has not arrived here." : `It has ${slots}.`,
    todo: "Open the fixture again and choose the match from it.",
  }),
  "slot-of-others": () => ({
    what: "This club does not play in that fixture.",
    why: "A fixture is reported by its two clubs, or by the league.",
    todo: "Leave it to them.",
  }),
  "slot-other-match": ({ number, differs }) => ({
    what: `Match ${number} of the fixture is of another ${differs === "format" ? "length" : differs === "play" ? "kind of play" : "discipline"}.`,
    why: "What is played in each match was set with the fixture.",
    todo: "Correct the report, or have the fixture set anew.",
  }),
  "stated-by-another-club": () => ({
    what: "That player's handicap is not this club's to state.",
    why: "Only the home club says what it is.",
    todo: "Propose a change instead; the home club answers it.",
  }),
  "proposal-unknown-player": () => ({
    what: "That player is not known in this league.",
    why: "A change is proposed for a player a club has entered.",
    todo: "Choose one of the players.",
  }),
  "answer-unknown-proposal": () => ({
    what: "There is no such proposal.",
    why: "It was taken back, or has not arrived here.",
    todo: "Look at the list again.",
  }),
  "answer-not-home-club": () => ({
    what: "This club does not answer that proposal.",
    why: "The player's home club does: it alone sets the handicap.",
    todo: "Leave it to that club's handicapper.",
  }),
  "link-self": () => ({
    what: "That is the same player twice.",
    why: "A link joins two entries of one person.",
    todo: "Choose the other entry.",
  }),
  "link-unknown": () => ({
    what: "That player is not known in this book.",
    why: "Only somebody who was entered can be joined to somebody.",
    todo: "Enter the player first.",
  }),
  "link-circular": () => ({
    what: "These two are one person already.",
    why: "Another link between them would only go round in a circle.",
    todo: "Nothing needs doing. If they are not one person, undo the link there is.",
  }),
  "link-two-homes": () => ({
    what: "Each of these players has a home club, and not the same.",
    why: "A player has one home club, which keeps the card.",
    todo: "If it is one person, have the player moved from one club to the other.",
  }),
  "link-same-match": () => ({
    what: "These two have played in one match.",
    why: "Nobody can be in a match twice.",
    todo: "Choose another player, or correct that match first.",
  }),
  "player-code-length": ({ symbols, wanted }) => ({
    what: `The code has ${symbols} symbols.`,
    why: `A player's code has ${wanted}, in groups of five.`,
    todo: "Write all of it; blanks and hyphens do not matter.",
  }),
  "player-code-symbol": ({ symbol, at }) => ({
    what: `Symbol ${at} of the code, “${symbol}”, is not one that codes are made of.`,
    why: "They have digits and letters, without U; I and L are read as 1, O as 0.",
    todo: "Look at it again on the paper.",
  }),
  "player-code-check": () => ({
    what: "The code is not quite right.",
    why: "Its last symbol checks all the others, and does not fit: one is wrong, or two have changed places.",
    todo: "Compare it with the paper group by group, or have it read out again.",
  }),
  "not-a-day": ({ given }) => ({
    what: `"${given}" is not a day.`,
    why: "A day that exists is meant, with the year first.",
    todo: "Write it as 2031-05-24.",
  }),
  "league-rules-unknown": ({ rules, known }) => ({
    what: `There is no league rule file "${rules}".`,
    why: `Known are ${known.join(", ")}.`,
    todo: "`sward league rules` lists them with their titles.",
  }),
  "league-record-wanted": ({ as, ofPlayer }) => ({
    what: ofPlayer ? "The record is one player's." : `The record is of a ${as}'s book.`,
    why: "A table is made from the whole book of a league.",
    todo: "Take the league's record: `sward export --home <folder> --book <id of the league>`.",
  }),
  "league-records-differ": ({ book, first }) => ({
    what: `The record is of another league's book (${book}).`,
    why: `The first file is of ${first}, and files of one league only are put together.`,
    todo: "Leave it out, or ask for that league's table by itself.",
  }),
};
