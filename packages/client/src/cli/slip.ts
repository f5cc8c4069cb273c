/** `sward slip`: results of games away, or of an open event, to a player's home club: `out` writes them, `show` checks, `in` takes them in. */
import type { BookId, PlayerId } from "@sward/core";
import { PlayerId as PlayerIdShape } from "@sward/core";
import { Command } from "commander";
import type { Slip, SlipAs, TakenSlip } from "../record/slip.ts";
import { readSlip, reportsToSend, takeSlip, writeSlip } from "../record/slip.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { jsonOption, readDay } from "./options.ts";
import { shortKey } from "./verify.ts";

interface OutOptions {
  readonly home: string;
  readonly player: string;
  readonly book?: string;
  readonly from?: string;
  readonly to?: string;
  readonly out: string;
  readonly json?: true;
}

interface InOptions {
  readonly home: string;
  readonly player?: string;
  readonly is?: string;
  readonly json?: true;
}

export function slipCommand(deps: CliDeps): Command {
  const command = new Command("slip")
    .summary("results away, to the player's home club")
    .description("Signed results of one book on their way to a player's home club, which carries each of them once.");
  for (const make of [outCommand, showCommand, inCommand])
    command.addCommand(make(deps).copyInheritedSettings(command));
  return command;
}

function outCommand(deps: CliDeps): Command {
  return new Command("out")
    .summary("write a player's results as a slip")
    .requiredOption("--home <folder>", "the device's folder")
    .requiredOption("--player <id>", "whose results: the id the player has here")
    .requiredOption("--out <file>", "where to")
    .option("--book <id>", "one of the device's books, if not its club's")
    .option("--from <day>", "from this day on")
    .option("--to <day>", "up to this day")
    .addOption(jsonOption())
    .addHelpText("after", EXAMPLE)
    .action(async (options: OutOptions) => {
      const asJson = options.json === true;
      const written = await writeOut(options, deps);
      if ("fault" in written) return refuse(deps, asJson, written);
      const { results } = written;
      return answer(deps, asJson, { json: written, text: `${counted(results)} written to ${options.out}.` });
    });
}

const EXAMPLE = `
Example:
  sward slip out --home pavilion --player eodSMA3Hn1vLN527z6xPZA --from 2031-05-01 --out slip.jsonl`;

function showCommand(deps: CliDeps): Command {
  return new Command("show")
    .summary("what is in a slip, and who signed it")
    .argument("<file>", "a slip")
    .addOption(jsonOption())
    .action(async (path: string, options: { readonly json?: true }) => {
      const asJson = options.json === true;
      const slip = await slipAt(path, deps);
      if ("fault" in slip) return refuse(deps, asJson, slip);
      return answer(deps, asJson, { json: asData(slip), text: asText(slip) });
    });
}

function inCommand(deps: CliDeps): Command {
  return new Command("in")
    .summary("take a slip into the home club's book")
    .argument("<file>", "a slip")
    .requiredOption("--home <folder>", "the device's folder")
    .option("--player <id>", "with --is: an id of the slip that is not known here")
    .option("--is <id>", "the member of this club who that is")
    .addOption(jsonOption())
    .action(async (path: string, options: InOptions) => {
      const asJson = options.json === true;
      const taken = await takeIn(path, options, deps);
      if ("fault" in taken) return refuse(deps, asJson, taken);
      return answer(deps, asJson, { json: taken, text: told(taken) });
    });
}

const counted = (results: number): string => (results === 1 ? "1 result" : `${results} results`);

function readPlayer(given: string, at: string): { readonly player: PlayerId } | Refusal {
  const player = PlayerIdShape().safeParse(given);
  return player.success ? { player: player.data as PlayerId } : { fault: { type: "not-a-player-id", given }, at };
}

async function writeOut(options: OutOptions, deps: CliDeps): Promise<{ file: string; results: number } | Refusal> {
  const of = readPlayer(options.player, "--player");
  if ("fault" in of) return of;
  const { from, to } = options;
  for (const [at, day] of Object.entries({ "--to": to, "--from": from })) {
    const read = day === undefined ? null : readDay(day);
    if (read !== null && !read.ok) return { fault: read.fault, at };
  }
  const days = { ...(from === undefined ? {} : { from }), ...(to === undefined ? {} : { to }) };
  const home = await deps.openHome(options.home);
  if (!home.ok) return { fault: home.fault, at: "--home" };
  const book = await home.value.open((options.book ?? home.value.pass.club.book) as BookId);
  if (!book.ok) return { fault: book.fault, at: book.fault.type === "home-no-such-book" ? "--book" : "--home" };
  const reports = reportsToSend(book.value, of.player, days);
  const slip = writeSlip(book.value, reports);
  await book.value.close();
  if (!slip.ok) return { fault: slip.fault, at: "--player" };
  const written = await deps.writeFile(options.out, slip.value);
  return written.ok ? { file: options.out, results: reports.length } : { fault: written.fault, at: "--out" };
}

async function slipAt(path: string, deps: CliDeps): Promise<Slip | Refusal> {
  const text = await deps.readFile(path);
  if (!text.ok) return { fault: text.fault };
  const slip = await readSlip(text.value);
  return slip.ok ? slip.value : { fault: slip.fault, at: path };
}

async function takeIn(path: string, options: InOptions, deps: CliDeps): Promise<TakenSlip | Refusal> {
  let as: SlipAs | null = null;
  if (options.player !== undefined || options.is !== undefined) {
    const player = readPlayer(options.player ?? "", "--player");
    if ("fault" in player) return player;
    const is = readPlayer(options.is ?? "", "--is");
    if ("fault" in is) return is;
    as = { player: player.player, is: is.player };
  }
  const slip = await slipAt(path, deps);
  if ("fault" in slip) return slip;
  const home = await deps.openHome(options.home);
  if (!home.ok) return { fault: home.fault, at: "--home" };
  const book = await home.value.open(home.value.pass.club.book);
  if (!book.ok) return { fault: book.fault, at: "--home" };
  const taken = await takeSlip(book.value, slip, as).finally(() => book.value.close());
  return taken.ok ? taken.value : { fault: taken.fault, at: taken.fault.type === "slip-other-player" ? "--is" : path };
}

const asData = ({ book, name, reports }: Slip) => ({
  book,
  name,
  results: reports.map(({ entry, line, by, known, uncounted }) => ({ line, by, known, uncounted, match: entry.body })),
});

function asText({ book, name, reports }: Slip): string {
  const rows = reports.map(({ entry, by, known, uncounted }) => {
    const sides = entry.body.sides.map((side) => side.map(({ player, off }) => `${player} (${off})`).join(" and "));
    const through = known.map((step) => `${shortKey(step.by)} (line ${step.line})`).join(", ");
    const scores = entry.body.games.map(({ score }) => score.join("-")).join(" ");
    return [
      entry.body.date,
      sides.join(" against "),
      scores,
      shortKey(by),
      uncounted === null ? through : "DOES NOT COUNT",
    ];
  });
  return [
    `A slip from ${name}, book ${book}: ${counted(reports.length)}.`,
    "",
    ...columns(["date", "players", "score", "signed by", "known through"], rows),
  ].join("\n");
}

function told({ players, added, known, unconfirmed, entries }: TakenSlip): string {
  const what =
    entries === null
      ? "All of it was here already: nothing was changed."
      : `${counted(added)} new, ${known} here already.`;
  return [
    what,
    `Of this club: ${players.join(", ")}.`,
    ...(unconfirmed === 0 ? [] : [`${counted(unconfirmed)} left out: what does not count where it was written.`]),
  ].join("\n");
}
