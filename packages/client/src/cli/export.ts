/** `sward export`: a book's record, or one player's, from a device's home, as signed entries in a file. */
import type { BookId, PlayerId } from "@sward/core";
import { PlayerId as PlayerIdShape } from "@sward/core";
import { Command, Option } from "commander";
import type { WrittenRecord } from "../record/write.ts";
import { writeRecordFile } from "../record/write.ts";
import type { Refusal } from "./answer.ts";
import { answer, refuse } from "./answer.ts";
import type { CliDeps } from "./deps.ts";
import { jsonOption } from "./options.ts";

interface Options {
  readonly home?: string;
  readonly from?: string;
  readonly book?: string;
  readonly player?: string;
  readonly out?: string;
  readonly json?: true;
}

export function exportCommand(deps: CliDeps): Command {
  return new Command("export")
    .summary("a book's or a player's record as a file")
    .description(
      "Writes a device's book, or one player's record out of it, as signed entries that anybody can check with nothing but the file.",
    )
    .option("--home <folder>", "the device's folder")
    .addOption(new Option("--from <file>", "not a file but a device signs a record").hideHelp())
    .option("--book <id>", "one of the device's books, if not its club's")
    .option("--player <id>", "only this player's record")
    .option("--out <file>", "where to, if not to the screen")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (options: Options) => {
      const asJson = options.json === true;
      const made = await makeRecord(options, deps);
      if ("fault" in made) return refuse(deps, asJson, made);
      const file = options.out ?? null;
      if (file !== null) {
        const written = await deps.writeFile(file, made.text);
        if (!written.ok) return refuse(deps, asJson, { fault: written.fault, at: "--out" });
      }
      return answer(deps, asJson, { json: asData(made, file), text: asText(made, file) });
    });
}

const HELP = `
The file is JSON Lines: each line one JSON string, a compact JWS. First who wrote it and how many entries there are, then the
entries. It holds ids and no names.

Examples:
  sward export --home pavilion --out club.jsonl
  sward export --home pavilion --player eodSMA3Hn1vLN527z6xPZA --out ada.jsonl

\`sward replay --home pavilion\` shows the players' ids.`;

async function makeRecord(options: Options, deps: CliDeps): Promise<WrittenRecord | Refusal> {
  if (options.from !== undefined) return { fault: { type: "export-needs-device", file: options.from }, at: "--from" };
  if (options.home === undefined) {
    const problem = "required option '--home <folder>' not specified";
    return { fault: { type: "command-line", command: "sward export", problem } };
  }
  const player = options.player === undefined ? null : PlayerIdShape().safeParse(options.player);
  if (player?.success === false) {
    return { fault: { type: "not-a-player-id", given: options.player ?? "" }, at: "--player" };
  }
  const home = await deps.openHome(options.home);
  if (!home.ok) return { fault: home.fault, at: "--home" };
  const { pass, device, clock } = home.value;
  const book = await home.value.open((options.book ?? pass.club.book) as BookId);
  if (!book.ok) return { fault: book.fault, at: book.fault.type === "home-no-such-book" ? "--book" : "--home" };
  const wish = { player: player === null ? null : (player.data as PlayerId), at: clock.timestamp() };
  const written = await writeRecordFile(book.value, device, wish).finally(() => book.value.close());
  if (written.ok) return written.value;
  return { fault: written.fault, at: written.fault.type === "export-unknown-player" ? "--player" : "--home" };
}

/** Without a file the record itself is the answer. */
function asData({ manifest, lines, leftOut }: WrittenRecord, file: string | null): unknown {
  return { ...manifest, leftOut, ...(file === null ? { record: lines } : { file }) };
}

function asText({ manifest, text, leftOut }: WrittenRecord, file: string | null): string {
  if (file === null) return text.trimEnd();
  const whose = manifest.player === null ? "the whole book" : `player ${manifest.player}`;
  return [
    `${manifest.entries} entries, ${whose}, written to ${file}.`,
    ...(leftOut === 0 ? [] : [`${leftOut} entries that nobody could check were left out.`]),
    `Book ${manifest.book}; \`sward verify ${file}\` checks it.`,
  ].join("\n");
}
