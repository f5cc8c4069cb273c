/** `sward replay`: every card of a book, worked out from its entries alone. */
import type { BookId, BookState, Card, Result } from "@sward/core";
import { byCodeUnits, canonicalText, ok } from "@sward/core";
import { Command } from "commander";
import type { Fault } from "../messages.ts";
import { PREVAIL } from "../messages.ts";
import { verifyRecordFile } from "../record/verify.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import { cardTable } from "./card-table.ts";
import type { CliDeps } from "./deps.ts";
import type { Names } from "./names-file.ts";
import { readNames } from "./names-file.ts";
import { jsonOption } from "./options.ts";

interface Options {
  readonly home?: string;
  readonly book?: string;
  readonly names?: string;
  readonly json?: true;
}

interface Replayed {
  readonly state: Pick<BookState, "book" | "name" | "as" | "players">;
  /** By player id. */
  readonly cards: readonly Card[];
  readonly names: Names;
}

export function replayCommand(deps: CliDeps): Command {
  return new Command("replay")
    .summary("every card of a book")
    .description(
      "Works out every card of a book from its entries: of a record file, which is checked first, or of a device.",
    )
    .argument("[file]", "a record written by sward export")
    .option("--home <folder>", "a device's folder instead of a file; names are those of its roster")
    .option("--book <id>", "with --home: one of the device's books, if not its club's")
    .option("--names <file>", "names for ids: CSV with the columns id and name")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (path: string | undefined, options: Options) => {
      const asJson = options.json === true;
      const replayed = await replay(path, options, deps);
      if ("fault" in replayed) return refuse(deps, asJson, replayed);
      return answer(deps, asJson, { json: asData(replayed), text: asText(replayed) });
    });
}

const HELP = `
--json prints RFC 8785 canonical JSON without names: two devices with the same entries print the same bytes.

Examples:
  sward replay club.jsonl
  sward replay --home pavilion`;

async function replay(path: string | undefined, options: Options, deps: CliDeps): Promise<Replayed | Refusal> {
  if ((path === undefined) === (options.home === undefined)) {
    const problem = "give either a record file or --home <folder>";
    return { fault: { type: "command-line", command: "sward replay", problem } };
  }
  const given = await namesGiven(options.names, deps);
  if (!given.ok) return { fault: given.fault, at: options.names ?? "--names" };
  if (path !== undefined) return ofFile(path, given.value, deps);
  return ofHome(options, given.value, deps);
}

async function namesGiven(path: string | undefined, deps: CliDeps): Promise<Result<Names, Fault>> {
  if (path === undefined) return ok(new Map());
  const text = await deps.readFile(path);
  return text.ok ? readNames(text.value) : text;
}

async function ofFile(path: string, names: Names, deps: CliDeps): Promise<Replayed | Refusal> {
  const text = await deps.readFile(path);
  if (!text.ok) return { fault: text.fault };
  const verified = await verifyRecordFile(text.value);
  if (!verified.ok) return { fault: verified.fault, at: path };
  const { state, report } = verified.value;
  return { state, cards: report.cards, names };
}

async function ofHome({ home: folder = "", book }: Options, given: Names, deps: CliDeps): Promise<Replayed | Refusal> {
  const home = await deps.openHome(folder);
  if (!home.ok) return { fault: home.fault, at: "--home" };
  const opened = await home.value.open((book ?? home.value.pass.club.book) as BookId);
  if (!opened.ok) return { fault: opened.fault, at: opened.fault.type === "home-no-such-book" ? "--book" : "--home" };
  const names = new Map([...opened.value.roster.all()].map(([id, { name }]) => [id, name]));
  for (const [id, name] of given) names.set(id, name);
  const state = opened.value.state();
  await opened.value.close();
  return { state, cards: [...state.cards.values()].sort((a, b) => byCodeUnits(a.player, b.player)), names };
}

/** Keys in canonical order, so that what is printed is canonical. */
const asData = ({ state, cards }: Replayed): unknown =>
  JSON.parse(canonicalText({ book: state.book, name: state.name, cards }));

function asText({ state, cards, names }: Replayed): string {
  const nameOf = (id: string) => names.get(id) ?? id;
  const shown = [...cards].sort(
    (a, b) => byCodeUnits(nameOf(a.player), nameOf(b.player)) || byCodeUnits(a.player, b.player),
  );
  const count = cards.length === 1 ? "1 card" : `${cards.length} cards`;
  const head = `${state.name === "" ? "A book without its opening" : state.name}, book ${state.book}: ${count}`;
  return [head, "", ...shown.flatMap((card) => [...cardText(card, nameOf), ""]), PREVAIL].join("\n");
}

function cardText(card: Card, nameOf: (id: string) => string): string[] {
  const { player, handicap, index, signatures } = card;
  const named = nameOf(player) === player ? player : `${nameOf(player)} (${player})`;
  const shortOf = (id: string) => (nameOf(id) === id ? id.slice(0, 10) : nameOf(id));
  return [
    `${named}: handicap ${handicap}, index ${index}`,
    ...cardTable(card, shortOf),
    ...signatures.map(
      ({ upto, by, standing }) =>
        `Signed up to ${upto} by ${shortOf(by)}${standing === "holds" ? "" : ": no longer what was signed"}`,
    ),
  ];
}
