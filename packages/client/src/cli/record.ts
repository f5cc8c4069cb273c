/**
 * `sward record`: one player's record between two clubs. `show` says whose it is, who signed it and how that is known, and prints the
 * card; `import` takes it into another club's book, whose own games go on from it.
 */
import type { Day, PlayerId } from "@sward/core";
import { PlayerId as PlayerIdShape } from "@sward/core";
import { Command } from "commander";
import { PREVAIL } from "../messages.ts";
import type { TakenIn, TakingWish } from "../record/taking.ts";
import { suggestedCutover, takeRecord } from "../record/taking.ts";
import type { VerifiedRecord } from "../record/verify.ts";
import { verifyRecordFile } from "../record/verify.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import { cardTable } from "./card-table.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { jsonOption, readDay } from "./options.ts";
import { shortKey, signerRow } from "./verify.ts";

interface ImportOptions {
  readonly home: string;
  readonly cutover?: string;
  readonly as?: string;
  readonly json?: true;
}

export function recordCommand(deps: CliDeps): Command {
  const command = new Command("record")
    .summary("a player who comes from another club")
    .description("A player's record, written by sward export --player, shown and taken into another club's book.");
  command.addCommand(showCommand(deps).copyInheritedSettings(command));
  return command.addCommand(importCommand(deps).copyInheritedSettings(command));
}

function showCommand(deps: CliDeps): Command {
  return new Command("show")
    .summary("whose record it is, who signed it, and the card")
    .argument("<file>", "a player's record")
    .addOption(jsonOption())
    .action(async (path: string, options: { readonly json?: true }) => {
      const asJson = options.json === true;
      const read = await readRecord(path, deps);
      if ("fault" in read) return refuse(deps, asJson, read);
      const cutover = suggestedCutover(read);
      return answer(deps, asJson, { json: { ...read.report, cutover }, text: shown(read, cutover) });
    });
}

function importCommand(deps: CliDeps): Command {
  return new Command("import")
    .summary("take a player's record into this club's book")
    .description(
      "Takes the record into the club's book of a handicapper's device. Before the cut-over the card is the old one, line by line; from that day on this club's games go on from it.",
    )
    .argument("<file>", "a player's record of another club")
    .requiredOption("--home <folder>", "a handicapper's device's folder")
    .option(
      "--cutover <day>",
      "the first day that is this club's, if not the day after the player left or the record was written",
    )
    .option("--as <id>", "who the player is here, where known under another id: a visitor's")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (path: string, options: ImportOptions) => {
      const asJson = options.json === true;
      const taken = await importRecord(path, options, deps);
      if ("fault" in taken) return refuse(deps, asJson, taken);
      return answer(deps, asJson, { json: taken, text: told(taken) });
    });
}

const HELP = `
The same record again changes nothing; a newer one brings what came late.

Example:
  sward record import --home pavilion --cutover 2031-04-01 ada.jsonl`;

async function readRecord(path: string, deps: CliDeps): Promise<VerifiedRecord | Refusal> {
  const text = await deps.readFile(path);
  if (!text.ok) return { fault: text.fault };
  const verified = await verifyRecordFile(text.value);
  return verified.ok ? verified.value : { fault: verified.fault, at: path };
}

async function importRecord(path: string, options: ImportOptions, deps: CliDeps): Promise<TakenIn | Refusal> {
  const wish = readWish(options);
  if ("fault" in wish) return wish;
  const record = await readRecord(path, deps);
  if ("fault" in record) return record;
  const home = await deps.openHome(options.home);
  if (!home.ok) return { fault: home.fault, at: "--home" };
  const book = await home.value.open(home.value.pass.club.book);
  if (!book.ok) return { fault: book.fault, at: "--home" };
  const taken = await takeRecord(book.value, record, wish).finally(() => book.value.close());
  if (taken.ok) return taken.value;
  const ofPlayer = taken.fault.type === "taking-nobody" || taken.fault.type === "taking-other-player";
  return { fault: taken.fault, at: ofPlayer ? "--as" : path };
}

function readWish({ cutover, as }: ImportOptions): TakingWish | Refusal {
  const day = cutover === undefined ? null : readDay(cutover);
  if (day !== null && !day.ok) return { fault: day.fault, at: "--cutover" };
  const player = as === undefined ? null : PlayerIdShape().safeParse(as);
  if (player?.success === false) return { fault: { type: "not-a-player-id", given: as ?? "" }, at: "--as" };
  return {
    ...(day === null ? {} : { cutover: day.value as Day }),
    ...(player === null ? {} : { as: player.data as PlayerId }),
  };
}

function shown({ report }: VerifiedRecord, cutover: Day): string {
  const { name, book, player, entries, at, exporter, signers, cards } = report;
  const whose = player === null ? "The whole book" : `The record of player ${player}`;
  const role = exporter.role === null ? "NOT admitted there: nobody vouches that it is complete" : exporter.role;
  return [
    `${whose}, from ${name}, book ${book}: ${entries} entries.`,
    `Written ${at} by ${shortKey(exporter.key)} (${role}). Unless told otherwise it is cut over on ${cutover}.`,
    "",
    "Signed by",
    ...columns(["key", "role", "entries", "count", "known through"], signers.map(signerRow)).map((line) => `  ${line}`),
    ...cards.flatMap((card) => ["", `Handicap ${card.handicap}, index ${card.index}`, ...cardTable(card, (id) => id)]),
    "",
    PREVAIL,
  ].join("\n");
}

function told({ player, cutover, added, known, entries, card, same }: TakenIn): string {
  const what =
    entries === null
      ? "All of it was here already: nothing was changed."
      : `${added} entries new, ${known} here already.`;
  const stands = card === null ? "There is no card yet." : `Handicap ${card.handicap}, index ${card.index}.`;
  return [
    `Player ${player}: ${what}`,
    `${stands} This club's games go on from ${cutover}.`,
    same
      ? "Before that day the card is the old club's, line by line."
      : "Before that day the card differs from the record: results that this book has and the record does not are on it too.",
    PREVAIL,
  ].join("\n");
}
