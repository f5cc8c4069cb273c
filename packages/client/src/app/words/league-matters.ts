/** What people read about what waits for somebody in a league. */
import type { KeyId } from "@sward/core";
import type { ClubNameOf, TeamNames } from "../../league/explained.ts";
import { listed, warningTold } from "../../league/explained.ts";
import { messageOf } from "../../messages.ts";
import type { Matter } from "../league/league-matters.ts";
import { count } from "../words.ts";
import { tableWords } from "./league-table.ts";

export const mattersWords = {
  title: "To settle in the league",
  lead: {
    league:
      "What waits for the secretary, or for a club. It is worked out from the league's record and this day alone.",
    club: "What waits in our club's own fixtures.",
  },
  link: (many: number) => (many === 0 ? "Nothing to settle" : `To settle: ${count(many, "fixture")}`),
  none: {
    title: "Nothing to settle",
    body: "Reports that differ, reports of one club alone whose days are over, fixtures nobody has reported, and teams the rules have something to say about would stand here.",
  },
  noRules: "The league has no rules yet: without them nothing is late, and no team is looked at.",
  open: (fixture: string) => `Open ${fixture}`,
} as const;

const matches = (numbers: readonly number[]): string =>
  `${numbers.length === 1 ? "match" : "matches"} ${listed(numbers.map(String))}`;

const late = (days: number): string => `${count(days, "day")} past the days the rules give`;

export interface MatterTold {
  readonly tone: "warn" | "info";
  /** Two or three words. */
  readonly about: string;
  readonly lines: readonly string[];
  /** What is to be done, and by whom. */
  readonly todo: string;
}

/** @param reader the reader's club, null for the league's own officer */
export function matterTold(matter: Matter, names: TeamNames, reader: KeyId | null): MatterTold {
  const asLeague = reader === null;
  const club: ClubNameOf = names.club;
  const said = (by: KeyId | null): string => (by === null ? tableWords.theLeague : club(by));
  switch (matter.type) {
    case "differs":
      return {
        tone: "warn",
        about: "reports differ",
        lines: [`In ${matches(matter.matches)} the two clubs report different things.`],
        todo: asLeague
          ? "One club takes the other's report for its own; or rule on it: both read why."
          : "Look at both reports: take theirs, correct ours, or leave it to the league's ruling.",
      };
    case "sides-unknown":
      return {
        tone: "warn",
        about: "sides unknown",
        lines: [`Of ${matches(matter.matches)} it cannot be told which side played for which club.`],
        todo: "Name the teams of the fixture, or enter the players for their clubs.",
      };
    case "one-sided":
      return {
        tone: "warn",
        about: "one club's word",
        lines: [`${said(matter.by)} alone has reported ${matches(matter.matches)}; ${late(matter.late)}.`],
        todo: asLeague
          ? "Ask the other club; or report it for the league, which needs nobody else's word."
          : matter.by === reader
            ? "We have told it. A word to the other club's captain, or to the secretary."
            : "Confirm it, or report it as we have it.",
      };
    case "unreported":
      return {
        tone: "warn",
        about: matter.all ? "not reported" : "not all in",
        lines: [
          matter.all
            ? `Nobody has reported the fixture; ${late(matter.late)}.`
            : `Nobody has reported ${matches(matter.matches)}; ${late(matter.late)}.`,
        ],
        todo: "Report it, or say what became of it: postponed, rained off, conceded.",
      };
    case "overdue":
      return {
        tone: "warn",
        about: "season over",
        lines: ["It is not settled, and the last day for all fixtures is past."],
        todo: "Rule what it counts for: conceded, void, or a later day.",
      };
    case "said-differently":
      return {
        tone: "warn",
        about: "said differently",
        lines: matter.marks.map((mark) => tableWords.mark(mark, said(mark.said))),
        todo: asLeague
          ? "Say for the league which it is; that goes first."
          : "Agree with the other club, or ask the secretary.",
      };
    case "team":
      return {
        tone: "info",
        about: `team of ${club(matter.club)}`,
        lines: matter.warnings.map((warning) => warningTold(warning, names)),
        todo: "A word to the captain before play; nothing is refused. What it means for the match is the league's to say.",
      };
    case "team-wrong": {
      const { what, why, todo } = messageOf(matter.fault);
      return { tone: "warn", about: `team of ${club(matter.club)}`, lines: [`${what} ${why}`], todo };
    }
  }
}
