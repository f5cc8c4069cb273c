/** `sward exchange`: the index points one game moves. */
import type { Play, RuleSet } from "@sward/core";
import { exchangePoints } from "@sward/core";
import { Command, Option } from "commander";
import { PREVAIL } from "../messages.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import type { CliDeps } from "./deps.ts";
import { findRules, jsonOption, readHandicaps, rulesOption } from "./options.ts";

interface Options {
  readonly rules: string;
  readonly play: Play;
  readonly winner: string;
  readonly loser: string;
  readonly json?: true;
}

export function exchangeCommand(deps: CliDeps): Command {
  return new Command("exchange")
    .summary("index points of a game")
    .description("The index points the winner of a game gains and the loser loses; in doubles each of a pair.")
    .addOption(rulesOption())
    .addOption(
      new Option("--play <kind>", "with extra strokes or without").choices(["handicap", "level"]).makeOptionMandatory(),
    )
    .requiredOption(
      "--winner <handicap>",
      "the handicap the winner was played off; of a pair both, with a comma between",
    )
    .requiredOption("--loser <handicap>", "the same of the loser")
    .addOption(jsonOption())
    .addHelpText(
      "after",
      "\nExamples:\n  sward exchange --play level --winner 4 --loser -1\n  sward exchange --rules new-south-wales-2022 --play handicap --winner 4,9 --loser 10,6",
    )
    .action((options: Options) => {
      const asJson = options.json === true;
      const result = pointsOf(options);
      if ("fault" in result) refuse(deps, asJson, result);
      else answer(deps, asJson, { json: { points: result.points }, text: asText(result, options.play) });
    });
}

interface Points {
  readonly rules: RuleSet;
  readonly points: number;
  readonly winner: readonly number[];
  readonly loser: readonly number[];
}

function pointsOf({ rules: id, play, winner, loser }: Options): Points | Refusal {
  const rules = findRules(id);
  if (!rules.ok) return { fault: rules.fault, at: "--rules" };
  const won = readHandicaps(winner);
  if (!won.ok) return { fault: won.fault, at: "--winner" };
  const lost = readHandicaps(loser);
  if (!lost.ok) return { fault: lost.fault, at: "--loser" };
  const result = exchangePoints(rules.value, { play, winner: won.value, loser: lost.value });
  if (result.ok) return { rules: rules.value, points: result.value.points, winner: won.value, loser: lost.value };
  const { fault } = result;
  return fault.type === "exchange-unknown-handicap" ? { fault, at: `--${fault.side}` } : { fault };
}

function asText({ rules, points, winner, loser }: Points, play: Play): string {
  const rule = ruleOf(rules, play, winner.length === 1);
  const known = rule.standing === "published" ? "as published" : `${rule.standing}, no published table could be read`;
  const pair = winner.length === 1 ? "" : " each";
  return [
    `${winner.join(" and ")} beats ${loser.join(" and ")} at ${play} play (${rules.id}):`,
    `  the winner's index goes up ${points}${pair}, the loser's goes down ${points}${pair}.`,
    `These points are ${known}. Whether a game counts depends on what it was played for.`,
    "",
    PREVAIL,
  ].join("\n");
}

function ruleOf({ exchange }: RuleSet, play: Play, singles: boolean): RuleSet["exchange"]["levelSingles"] {
  if (play === "level") return singles ? exchange.levelSingles : exchange.levelDoubles;
  return singles ? exchange.handicapSingles : exchange.handicapDoubles;
}
