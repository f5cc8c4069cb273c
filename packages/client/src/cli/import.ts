/** `sward import`: a record taken into a device's own vault: after a loss, or where there is no network to bring it. */
import type { BookId } from "@sward/core";
import { Command } from "commander";
import type { Book } from "../book/book.ts";
import type { VerifiedRecord } from "../record/verify.ts";
import { verifyRecordFile } from "../record/verify.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import type { CliDeps } from "./deps.ts";
import { jsonOption } from "./options.ts";

interface Options {
  readonly home: string;
  readonly json?: true;
}

interface Imported {
  readonly book: BookId;
  readonly entries: number;
  readonly added: number;
  readonly known: number;
  /** Entries of the device's book that wait for earlier ones, which the record did not bring. */
  readonly waiting: number;
}

export function importCommand(deps: CliDeps): Command {
  return new Command("import")
    .summary("take a record into a device's book")
    .description(
      "Checks a record and adds what a device does not have yet to its own book. A record that does not hold changes nothing.",
    )
    .argument("<file>", "a record of one of the device's books, written by sward export")
    .requiredOption("--home <folder>", "the device's folder")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (path: string, options: Options) => {
      const asJson = options.json === true;
      const imported = await importRecord(path, options.home, deps);
      if ("fault" in imported) return refuse(deps, asJson, imported);
      return answer(deps, asJson, { json: imported, text: asText(imported, options.home) });
    });
}

const HELP = `
Importing the same record again changes nothing. A device that lost its folder should meet the club's other devices before it
writes anything: what it wrote after the record was made is with them.

Example:
  sward import --home pavilion club.jsonl`;

async function importRecord(path: string, folder: string, deps: CliDeps): Promise<Imported | Refusal> {
  const text = await deps.readFile(path);
  if (!text.ok) return { fault: text.fault };
  const verified = await verifyRecordFile(text.value);
  if (!verified.ok) return { fault: verified.fault, at: path };
  const home = await deps.openHome(folder);
  if (!home.ok) return { fault: home.fault, at: "--home" };
  const { pass } = home.value;
  const { book, name, player } = verified.value.report;
  if (![pass.club, ...pass.leagues].some((one) => one.book === book)) {
    return { fault: { type: "import-other-book", book, name, ofPlayer: player !== null }, at: path };
  }
  const opened = await home.value.open(book);
  if (!opened.ok) return { fault: opened.fault, at: "--home" };
  try {
    return await takeIn(opened.value, verified.value);
  } finally {
    await opened.value.close();
  }
}

async function takeIn(book: Book, { report, texts }: VerifiedRecord): Promise<Imported | Refusal> {
  const taken = await book.takeEntries(texts);
  if (!taken.ok) return { fault: taken.fault, at: "--home" };
  const { added, known } = taken.value;
  const waiting = [...book.state().uncounted.values()].filter((reason) => reason === "waiting-for-earlier").length;
  return { book: report.book, entries: report.entries, added: added.length, known, waiting };
}

function asText({ entries, added, known, waiting }: Imported, folder: string): string {
  return [
    `${entries} entries in the record: ${added} new, saved in ${folder}; ${known} were there already.`,
    ...(waiting === 0
      ? []
      : [
          `${waiting} entries of this book wait for earlier ones, which are not here yet. One player's record has gaps.`,
        ]),
  ].join("\n");
}
