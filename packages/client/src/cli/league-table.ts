/**
 * `sward league table`: the table of a league from record files alone, so that it can be had when the league's relay is gone or a club
 * does not answer. Each file is checked as `sward verify` does; several of one league's book, from whichever clubs have them, are
 * put together, and together say what any device says that holds the same entries.
 */
import type { BookId, BookState, Counted, Day, KeyId, LeagueReading } from "@sward/core";
import { byCodeUnits, canonicalText, createLedger, decodeEntry, readLeague } from "@sward/core";
import { Command } from "commander";
import { keysIn, openCarried } from "../book/stated.ts";
import { createVerifier } from "../keys/verifier.ts";
import { outcomeTold, tableTold } from "../league/explained.ts";
import { PREVAIL } from "../messages.ts";
import { verifyRecordFile } from "../record/verify.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { jsonOption, readDay } from "./options.ts";

interface Options {
  readonly on?: string;
  readonly json?: true;
}

interface Read {
  readonly state: BookState;
  readonly reading: LeagueReading;
}

export function leagueTableCommand(deps: CliDeps): Command {
  return new Command("table")
    .summary("a league's table from record files")
    .description(
      "Checks records of a league's book, puts them together, and shows fixtures, table and why it stands as it does.",
    )
    .argument("<files...>", "records of the league's whole book, written by sward export")
    .option("--on <day>", "the season that this day belongs to, as 2031-05-24; today's if left out")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (paths: string[], options: Options) => {
      const asJson = options.json === true;
      const read = await readFiles(paths, options, deps);
      if ("fault" in read) return refuse(deps, asJson, read);
      return answer(deps, asJson, { json: asData(read), text: asText(read) });
    });
}

const HELP = `
--json prints RFC 8785 canonical JSON: whoever has the same entries prints the same bytes.

Examples:
  sward league table league.jsonl
  sward league table ash.jsonl birch.jsonl --on 2031-05-24`;

async function readFiles(paths: readonly string[], { on }: Options, deps: CliDeps): Promise<Read | Refusal> {
  const day = on === undefined ? { ok: true as const, value: deps.today() } : readDay(on);
  if (!day.ok) return { fault: day.fault, at: "--on" };
  const texts = new Set<string>();
  let book: BookId | null = null;
  for (const path of paths) {
    const text = await deps.readFile(path);
    if (!text.ok) return { fault: text.fault };
    const verified = await verifyRecordFile(text.value);
    if (!verified.ok) return { fault: verified.fault, at: path };
    const { report } = verified.value;
    if (report.as !== "league" || report.player !== null) {
      return { fault: { type: "league-record-wanted", as: report.as, ofPlayer: report.player !== null }, at: path };
    }
    book ??= report.book;
    if (report.book !== book)
      return { fault: { type: "league-records-differ", book: report.book, first: book }, at: path };
    for (const one of verified.value.texts) texts.add(one);
  }
  if (book === null) throw new Error("the parser lets no command through without a file");
  return readTogether(book, texts, day.value);
}

/** Every text was checked with its own file; what is said together is judged together. */
async function readTogether(book: BookId, texts: ReadonlySet<string>, day: Day): Promise<Read> {
  const entries = [...texts].flatMap((jws) => {
    const decoded = decodeEntry(jws);
    return decoded.ok ? [decoded.value] : [];
  });
  const verifier = createVerifier();
  for (const entry of entries) if (entry.understood) for (const key of keysIn(entry)) verifier.learn(key);
  const ledger = createLedger(book);
  ledger.add(await Promise.all(entries.map((entry) => openCarried(entry, verifier))));
  const counted: Counted[] = [...ledger.counted()];
  const state = ledger.state();
  return { state, reading: readLeague({ state, counted }, day) };
}

function asData({ state, reading }: Read): unknown {
  const { rules, outcomes, table, overdue } = reading;
  const clubs = [...state.clubs.values()].sort((a, b) => byCodeUnits(a.club, b.club));
  const late = overdue.map(({ fixture }) => fixture);
  return JSON.parse(
    canonicalText({
      book: state.book,
      name: state.name,
      clubs,
      rules: rules?.id ?? null,
      outcomes,
      table,
      overdue: late,
    }),
  );
}

function asText({ state, reading }: Read): string {
  const { rules, outcomes, table, overdue } = reading;
  const nameOf = (club: KeyId): string => state.clubs.get(club)?.name ?? club.slice(0, 10);
  const head = `${state.name}, book ${state.book}`;
  if (rules === null || table === null) {
    return [
      head,
      "",
      "The league has set no rules that this version can read, so there is no table.",
      "",
      PREVAIL,
    ].join("\n");
  }
  const rows = table.rows.map((row) => [
    row.shared ? `${row.place}=` : row.place,
    nameOf(row.club),
    row.played,
    row.won,
    row.drawn,
    row.lost,
    row.games.join("-"),
    row.hoops.join("-"),
    row.points,
  ]);
  const why = tableTold(table, nameOf);
  const late = new Set(overdue.map(({ fixture }) => fixture));
  return [
    head,
    `Rules: ${rules.title}`,
    "",
    ...columns(["", "club", "played", "won", "drawn", "lost", "games", "hoops", "points"], rows),
    ...(why.length === 0 ? [] : ["", ...why]),
    "",
    ...outcomes.map((one) => `${one.day}  ${outcomeTold(one, nameOf)}${late.has(one.fixture) ? " (overdue)" : ""}`),
    "",
    PREVAIL,
  ].join("\n");
}
