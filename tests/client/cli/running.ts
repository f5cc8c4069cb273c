/** Runs `sward` inside the test, with everything it would have written kept. */
import type { Day } from "@sward/core";
import { fail, ok } from "@sward/core";
import { run } from "../../../packages/client/src/cli/run.ts";
import { openHome } from "../../../packages/client/src/desk/home.ts";

export interface Ran {
  readonly out: string;
  readonly err: string;
  readonly code: number;
  /** Files written, by path. */
  readonly written: Readonly<Record<string, string>>;
}

/**
 * @param line as typed after `sward`, words parted by single blanks
 * @param files what can be read, by path
 * @param homes folders of devices, where a line calls them otherwise
 */
export async function sward(
  line: string,
  files: Readonly<Record<string, string>> = {},
  today: Day = "2031-09-30",
  homes: Readonly<Record<string, string>> = {},
) {
  const written: Record<string, string> = {};
  const ran = { out: "", err: "", code: 0, written };
  await run(line === "" ? [] : line.split(" "), {
    out: (text) => {
      ran.out += text;
    },
    err: (text) => {
      ran.err += text;
    },
    setExitCode: (code) => {
      ran.code = code;
    },
    readFile: async (path) => {
      const text = files[path];
      return text === undefined ? fail({ type: "file-not-read", path, cause: "There is no such file." }) : ok(text);
    },
    writeFile: async (path, text) => {
      if (path.endsWith("/")) return fail({ type: "file-not-written", path, cause: "It is a folder." });
      written[path] = text;
      return ok(null);
    },
    openHome: (folder) =>
      openHome(homes[folder] ?? folder, { today: () => today, timestamp: () => `${today}T12:00:00Z` }),
    today: () => today,
  });
  return ran satisfies Ran;
}

/** The answer of a command that was not refused. */
export async function answerOf(line: string, files: Readonly<Record<string, string>> = {}): Promise<unknown> {
  const ran = await sward(`${line} --json`, files);
  if (ran.code !== 0 || ran.err !== "") throw new Error(`sward ${line} was refused: ${ran.err}`);
  return JSON.parse(ran.out);
}

export interface Refused {
  readonly fault: { readonly type: string };
  readonly at?: string;
  readonly message: string;
}

/** The refusal of a command, which must have written nothing else and say the same to a person. */
export async function refusalOf(line: string, files: Readonly<Record<string, string>> = {}): Promise<Refused> {
  const [asJson, asText] = [await sward(`${line} --json`, files), await sward(line, files)];
  if (asJson.code !== 2 || asText.code !== 2) throw new Error(`sward ${line} was not refused`);
  if (asJson.out !== "" || asText.out !== "") throw new Error(`sward ${line} was refused and wrote ${asText.out}`);
  const refused = JSON.parse(asJson.err) as Refused;
  const place = refused.at === undefined ? "" : `${refused.at}: `;
  if (asText.err !== `sward: ${place}${refused.message}\n`) throw new Error(`said differently: ${asText.err}`);
  return refused;
}
