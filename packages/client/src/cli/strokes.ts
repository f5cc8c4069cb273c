/** `sward strokes`: the extra strokes of a game, every lawful choice. */
import type { Choice, Format, RuleSet, Sides } from "@sward/core";
import { extraStrokes } from "@sward/core";
import { Command, Option } from "commander";
import { PREVAIL } from "../messages.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import type { CliDeps } from "./deps.ts";
import { findRules, jsonOption, readHandicaps, rulesOption } from "./options.ts";

interface Options {
  readonly rules: string;
  readonly format: "7" | "13" | "19";
  readonly side: readonly string[];
  readonly json?: true;
}

export function strokesCommand(deps: CliDeps): Command {
  return new Command("strokes")
    .summary("extra strokes of a game")
    .description(
      "The extra strokes of a handicap game, singles or doubles: every lawful choice of who receives how many.",
    )
    .addOption(rulesOption())
    .addOption(new Option("--format <points>", "length of the game").choices(["7", "13", "19"]).default("13"))
    .addOption(
      new Option("--side <handicaps>", "handicaps of one side, a comma between two partners; give it twice")
        .makeOptionMandatory()
        .argParser((typed: string, before: readonly string[] = []) => [...before, typed]),
    )
    .addOption(jsonOption())
    .addHelpText(
      "after",
      "\nExamples:\n  sward strokes --side 7 --side 16\n  sward strokes --format 19 --side -2,4 --side 10,6 --json",
    )
    .action((options: Options) => {
      const asJson = options.json === true;
      const result = strokesOf(options);
      if ("fault" in result) refuse(deps, asJson, result);
      else answer(deps, asJson, { json: { choices: result.choices }, text: asText(result) });
    });
}

interface Strokes {
  readonly rules: RuleSet;
  readonly format: Format;
  readonly sides: Sides;
  readonly choices: readonly Choice[];
}

function strokesOf(options: Options): Strokes | Refusal {
  const rules = findRules(options.rules);
  if (!rules.ok) return { fault: rules.fault, at: "--rules" };
  const sides: (readonly number[])[] = [];
  for (const typed of options.side) {
    const side = readHandicaps(typed);
    if (!side.ok) return { fault: side.fault, at: `--side ${typed}` };
    sides.push(side.value);
  }
  const format = Number(options.format) as Format;
  const result = extraStrokes(rules.value, { format, sides });
  if (result.ok) return { rules: rules.value, format, sides, choices: result.value.choices };
  const { fault } = result;
  const at = fault.type === "strokes-unknown-handicap" ? `--side ${options.side[fault.side - 1]}` : "--side";
  return { fault, at };
}

function asText({ rules, format, sides, choices }: Strokes): string {
  const against = sides.map((side) => side.join(" and ")).join(" against ");
  const head = `${against}, ${format}-point game, handicap play (${rules.id})`;
  const ways = choices.map((choice) => choice.strokes.map((each) => `  ${receives(each)}`).join("\n"));
  if (choices.length === 1) return [`${head}:`, ways[0] || "  nobody receives extra strokes", "", PREVAIL].join("\n");
  const numbered = ways.map((way, at) => `Choice ${at + 1}\n${way}`);
  return [`${head}:`, `The partners concerned choose one of ${choices.length} ways.`, ...numbered, "", PREVAIL].join(
    "\n",
  );
}

function receives({ side, handicap, extra, player }: Choice["strokes"][number]): string {
  const who = player === undefined ? `the ${handicap}` : `the ${handicap} named ${player === 1 ? "first" : "second"}`;
  return `side ${side}: ${who} receives ${extra}`;
}
