/** `sward rules`: which rule sets there are; `sward rules <id>`: one of them with every source and every gap. */
import type { ExchangeRule, RuleSet, Standing } from "@sward/core";
import { gapsOf, ruleSets } from "@sward/core";
import { Command } from "commander";
import { PREVAIL } from "../messages.ts";
import { answer, refuse } from "./answer.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { findRules, jsonOption } from "./options.ts";

export function rulesCommand(deps: CliDeps): Command {
  return new Command("rules")
    .summary("the rule sets, and what is in one")
    .description(
      "Lists the rule sets; with an id prints its tables, where each number comes from, and what is not known.",
    )
    .argument("[id]", "a rule set")
    .addOption(jsonOption())
    .addHelpText("after", "\nExamples:\n  sward rules\n  sward rules england-2016")
    .action((id: string | undefined, options: { readonly json?: true }) => {
      const asJson = options.json === true;
      if (id === undefined) {
        const list = ruleSets.map(({ id, title, body }) => ({ id, title, body }));
        const rows = list.map((set) => [set.id, set.title, set.body]);
        const text = [...columns(["id", "title", "governing body"], rows), "", PREVAIL].join("\n");
        return answer(deps, asJson, { json: { rules: list }, text });
      }
      const set = findRules(id);
      if (!set.ok) return refuse(deps, asJson, { fault: set.fault });
      return answer(deps, asJson, { json: set.value, text: asText(set.value) });
    });
}

interface Provenance {
  readonly source: string | null;
  readonly standing: Standing;
}

const from = ({ source, standing }: Provenance): string => (source === null ? standing : `${standing} [${source}]`);

function asText(set: RuleSet): string {
  return [
    `${set.title} (${set.id})`,
    set.body,
    "",
    ...section(
      "Trigger points",
      ["handicap", "index", "standing"],
      set.triggers.map((row) => [row.handicap, row.trigger, from(row)]),
    ),
    ...section("Index points", ["game", "points", "standing"], exchangeRows(set)),
    ...section(
      "What counts",
      ["played for", "counts", "standing"],
      set.counting.map((row) => [row.occasion, row.counts ? "yes" : "no", from(row)]),
    ),
    "When a change of handicap takes effect",
    `  ${effect(set)}: ${from(set.effective)}`,
    "",
    "Extra strokes",
    `  13 points: the difference of the handicaps${set.strokes.conversions.map(conversion).join("")}`,
    `  doubles: ${doubles(set)}: ${from(set.strokes.doubles)}`,
    "",
    ...startingTable(set),
    ...olderScale(set),
    "Not known, or not as one might think",
    ...gapsOf(set).map((gap) => `  - ${gap}`),
    "",
    "Sources",
    ...Object.entries(set.sources).map(([key, { title, url }]) => `  [${key}] ${title}\n    ${url}`),
    "",
    PREVAIL,
  ].join("\n");
}

function section(title: string, head: readonly string[], rows: readonly (readonly (string | number)[])[]): string[] {
  return [title, ...columns(head, rows).map((line) => `  ${line}`), ""];
}

function exchangeRows({ exchange }: RuleSet): (readonly string[])[] {
  const row = (game: string, rule: ExchangeRule) => [game, points(rule), from(rule)];
  return [
    row("handicap singles", exchange.handicapSingles),
    row("handicap doubles", exchange.handicapDoubles),
    row("level singles", exchange.levelSingles),
    row("level doubles", exchange.levelDoubles),
  ];
}

function points(rule: ExchangeRule): string {
  if (rule.kind === "fixed") return `${rule.points} each way`;
  if (rule.kind === "none") return "none";
  if (rule.kind === "unread") return "table not read: none";
  const { sum, base, scale, min, max } = rule;
  return `${sum} / (1 + ${base}^(D/${scale})), ${min} to ${max}`;
}

function effect({ effective: { unit, eventDays, wholeEvents } }: RuleSet): string {
  if (unit === "game") return "at once, after the game";
  if (unit !== "event") return `after the ${unit}`;
  const always = wholeEvents.length === 0 ? "" : `, or of kind ${wholeEvents.join(", ")}`;
  return `after an event of at most ${eventDays} days${always}; otherwise after the day`;
}

function conversion({ format, numerator, denominator, ...row }: RuleSet["strokes"]["conversions"][number]): string {
  return `\n  ${format} points: that times ${numerator}/${denominator}, halves up: ${from(row)}`;
}

function doubles({ strokes }: RuleSet): string {
  const { pairing, halves } = strokes.doubles;
  const pairs =
    pairing === "cross" ? "lower handicap with the other side's higher" : "lower with lower, higher with higher";
  const rounding = halves === "each" ? "every half rounds up" : "one partner of a side may round up a half";
  return `half the difference, ${pairs}; ${rounding}`;
}

function olderScale({ olderScale: table }: RuleSet): string[] {
  if (table.length === 0) return [];
  const rows = table.map(({ from: low, to: high, add, unless, ...row }) => [
    low === high ? `${low}` : `${low} to ${high}`,
    `index +${add}`,
    unless === null ? "" : `handicap ${unless.handicap} from index ${unless.index}`,
    from(row),
  ]);
  return section("A card of the scale before", ["handicap", "becomes", "but", "standing"], rows);
}

function startingTable({ assessment }: RuleSet): string[] {
  if (assessment.length === 0) return [];
  const rows = assessment.map((row) => [
    row.atMost === null ? `${row.atLeast} or more` : `${row.atLeast} to ${row.atMost}`,
    row.handicap,
    row.index,
    from(row),
  ]);
  return section("Starting handicap by strokes of three rounds", ["strokes", "handicap", "index", "standing"], rows);
}
