/** `sward league`: a league's table from files, the rule files that come with the program, and the rounds of a season. */
import type { LeagueRules, Round } from "@sward/core";
import { findLeagueRules, parseLeagueRules, roundRobin, writtenLeagueRules } from "@sward/core";
import { Command, Option } from "commander";
import { PREVAIL } from "../messages.ts";
import { answer, refuse } from "./answer.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { leagueTableCommand } from "./league-table.ts";
import { jsonOption } from "./options.ts";

export function leagueCommand(deps: CliDeps): Command {
  const league = new Command("league")
    .summary("a league's table, rules and rounds")
    .description("A league's table from record files; rule files to begin from, or to check; the rounds of a season.");
  for (const make of [leagueTableCommand, rulesCommand, checkCommand, roundsCommand]) {
    league.addCommand(
      make(deps)
        .exitOverride()
        .configureOutput({ writeOut: deps.out, writeErr: () => undefined }),
    );
  }
  return league.helpCommand(false);
}

function rulesCommand(deps: CliDeps): Command {
  return new Command("rules")
    .summary("the league rule files that come with the program")
    .description("Lists the league rule files; with an id prints that file, to be changed and signed by a league.")
    .argument("[id]", "a rule file")
    .addOption(jsonOption())
    .addHelpText("after", "\nExamples:\n  sward league rules\n  sward league rules turn-up > ours.json")
    .action((id: string | undefined, options: { readonly json?: true }) => {
      const asJson = options.json === true;
      if (id === undefined) {
        const list = writtenLeagueRules().map(({ id: known, title }) => ({ id: known, title }));
        const text = [
          ...columns(
            ["id", "title"],
            list.map((one) => [one.id, one.title]),
          ),
          "",
          PREVAIL,
        ].join("\n");
        return answer(deps, asJson, { json: { rules: list }, text });
      }
      const rules = findLeagueRules(id);
      if (rules !== undefined) return answer(deps, asJson, { json: rules, text: JSON.stringify(rules, null, 2) });
      const known = writtenLeagueRules().map((one) => one.id);
      return refuse(deps, asJson, { fault: { type: "league-rules-unknown", rules: id, known } });
    });
}

function checkCommand(deps: CliDeps): Command {
  return new Command("check")
    .summary("whether a file holds a league's rules")
    .description(
      "Reads a league's rules from a JSON file and says what they come to, or the first thing that is wrong.",
    )
    .argument("<file>", "rules as sward league rules prints them")
    .addOption(jsonOption())
    .addHelpText("after", "\nExample:\n  sward league check ours.json")
    .action(async (path: string, options: { readonly json?: true }) => {
      const asJson = options.json === true;
      const text = await deps.readFile(path);
      if (!text.ok) return refuse(deps, asJson, { fault: text.fault });
      const parsed = parseLeagueRules(parsedJson(text.value));
      if (!parsed.ok) return refuse(deps, asJson, { fault: parsed.fault, at: path });
      return answer(deps, asJson, {
        json: { id: parsed.value.id, ...countsOf(parsed.value) },
        text: rulesText(parsed.value),
      });
    });
}

/** What is no JSON is no rules either, and is refused as that. */
function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}

const countsOf = ({ slots }: LeagueRules) => {
  const doubles = slots.filter(({ home }) => home.length === 2).length;
  return { singles: slots.length - doubles, doubles };
};

function rulesText(rules: LeagueRules): string {
  const { singles, doubles } = countsOf(rules);
  const { win, draw, loss } = rules.points;
  return [
    `${rules.title} (${rules.id})`,
    `Teams of ${rules.team.players}; ${singles} singles and ${doubles} doubles in a fixture.`,
    `Points: ${win} won, ${draw} drawn, ${loss} lost. Ties: ${rules.tieBreaks.join(", then ") || "the place is shared"}.`,
    "",
    PREVAIL,
  ].join("\n");
}

interface RoundsOptions {
  readonly meet: LeagueRules["meetings"];
  readonly json?: true;
}

function roundsCommand(deps: CliDeps): Command {
  return new Command("rounds")
    .summary("who meets whom, round by round")
    .description("The rounds of a season by the Berger tables of the FIDE Handbook; the first named is at home.")
    .argument("<clubs...>", "names in the order drawn")
    .addOption(
      new Option("--meet <how>", "each other once, or home and away")
        .choices(["once", "home-and-away"])
        .default("once"),
    )
    .addOption(jsonOption())
    .addHelpText("after", "\nExample:\n  sward league rounds Ash Birch Cedar --meet home-and-away")
    .action((clubs: string[], options: RoundsOptions) => {
      const rounds = roundRobin(clubs, options.meet);
      answer(deps, options.json === true, { json: { rounds }, text: roundsText(rounds) });
    });
}

function roundsText(rounds: readonly Round<string>[]): string {
  if (rounds.length === 0) return "One club meets nobody.";
  return rounds
    .map(({ round, meetings, bye }) => {
      const met = meetings.map(({ home, away }) => `${home} v ${away}`);
      return `Round ${round}: ${[...met, ...(bye === null ? [] : [`bye ${bye}`])].join(", ")}`;
    })
    .join("\n");
}
