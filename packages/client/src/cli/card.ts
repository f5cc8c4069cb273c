/** `sward card`: a player's card from a file of results. */
import type { GameLine, Result, RuleSet } from "@sward/core";
import { ok, triggerOf } from "@sward/core";
import { Command } from "commander";
import type { Fault } from "../messages.ts";
import { PREVAIL } from "../messages.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { findRules, jsonOption, readHandicap, readIndex, rulesOption } from "./options.ts";
import type { ResultsCard, Start } from "./results-card.ts";
import { cardOfResults } from "./results-card.ts";
import type { ResultRow } from "./results-file.ts";
import { readResults } from "./results-file.ts";

interface Options {
  readonly rules: string;
  readonly start: string;
  readonly index?: string;
  readonly json?: true;
}

interface Made {
  readonly rules: RuleSet;
  readonly start: Start;
  readonly card: ResultsCard;
  readonly unused: readonly string[];
}

export function cardCommand(deps: CliDeps): Command {
  return new Command("card")
    .summary("a player's card from a file of results")
    .description("A player's card from a CSV file of results: index and handicap after every game.")
    .argument("<file>", "CSV with the heading date,opponent,opponent_handicap,play,score,event")
    .addOption(rulesOption())
    .requiredOption("--start <handicap>", "the handicap the card begins with")
    .option("--index <points>", "the index it begins with, if not the handicap's trigger point")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (path: string, options: Options) => {
      const asJson = options.json === true;
      const made = await makeCard(path, options, deps);
      if ("fault" in made) refuse(deps, asJson, made);
      else answer(deps, asJson, { json: asData(made), text: asText(made) });
    });
}

const HELP = `
The file: one game on each line. date as 2031-05-24; play H or L; the player's own score first, 7-4; event may be empty.
Optional columns: occasion (what it was played for, club-competition if empty), format (7, 13 or 19 points, 13 if empty),
ended (time, abandoned or walkover). Games of one event in one year belong together, from the first to the last.

Example, results.csv:
  date,opponent,opponent_handicap,play,score,event
  2031-05-24,Ada Finch,9,H,7-4,
  2031-05-24,Bruno Hale,2,L,5-7,

  sward card --start 7 --index 1390 results.csv`;

async function makeCard(path: string, options: Options, deps: CliDeps): Promise<Made | Refusal> {
  const rules = findRules(options.rules);
  if (!rules.ok) return { fault: rules.fault, at: "--rules" };
  const handicap = readHandicap(options.start);
  if (!handicap.ok) return { fault: handicap.fault, at: "--start" };
  const trigger = triggerOf(rules.value, handicap.value);
  if (trigger === undefined) {
    const fault: Fault = { type: "start-unknown-handicap", rules: rules.value.id, handicap: handicap.value };
    return { fault, at: "--start" };
  }
  const index: Result<number, Fault> = options.index === undefined ? ok(trigger) : readIndex(options.index);
  if (!index.ok) return { fault: index.fault, at: "--index" };
  const text = await deps.readFile(path);
  if (!text.ok) return { fault: text.fault };
  const results = readResults(text.value, rules.value, deps.today());
  if (!results.ok) return { fault: results.fault, at: path };
  const start = { handicap: handicap.value, index: index.value };
  const { rows, unused } = results.value;
  return { rules: rules.value, start, card: cardOfResults(rules.value, start, rows), unused };
}

function asData({ rules, start, card, unused }: Made): unknown {
  return {
    rules: rules.id,
    start,
    lines: card.lines.map(({ row, line }) => ({
      line: row.line,
      date: row.date,
      opponent: row.opponent,
      opponent_handicap: row.opponentHandicap,
      play: row.play,
      score: row.game.score.join("-"),
      event: row.event,
      off: line.off,
      points: line.points,
      reason: line.reason,
      index: line.index,
      handicap: line.handicap,
      moved: line.moved,
    })),
    handicap: card.handicap,
    index: card.index,
    unused,
  };
}

const HEAD = ["date", "opponent", "off", "", "score", "+/-", "index", "handicap", ""];

function asText({ rules, start, card, unused }: Made): string {
  const rows = card.lines.map(({ row, line }) => [
    row.date,
    row.opponent,
    row.opponentHandicap,
    row.play === "level" ? "L" : "H",
    row.game.score.join("-"),
    line.points > 0 ? `+${line.points}` : String(line.points),
    line.index,
    line.handicap,
    remark(row, line),
  ]);
  return [
    `Rules ${rules.id}. Start: handicap ${start.handicap}, index ${start.index}.`,
    "",
    ...columns(HEAD, rows),
    "",
    `Handicap ${card.handicap}, index ${card.index}.`,
    ...(unused.length === 0 ? [] : [`Columns not used: ${unused.join(", ")}.`]),
    PREVAIL,
  ].join("\n");
}

const REMARKS: Partial<Readonly<Record<GameLine["reason"], string>>> = {
  "occasion-does-not-count": "does not count",
  abandoned: "abandoned: does not count",
  walkover: "walkover: does not count",
  drawn: "drawn: no points",
  "table-not-readable": "the table of points could not be read: no points",
};

function remark({ event }: ResultRow, { reason, moved }: GameLine): string {
  const { after, from, to, trigger } = moved ?? {};
  const day = after === undefined || after === null ? "" : ` from the day after ${after}`;
  const change = moved === null ? undefined : `${from} to ${to}${day}, ${trigger} reached`;
  return [event === "" ? undefined : event, REMARKS[reason], change].filter((part) => part !== undefined).join("; ");
}
