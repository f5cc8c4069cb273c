import { execFile } from "node:child_process";
import { tmpdir } from "node:os";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { beforeAll, expect, test } from "vitest";
import { temporaryFolders } from "../../support/folders.ts";
import { playedClub } from "../record/signed-club.ts";
import { fullHome } from "./pavilion.ts";
import { refusalOf, sward } from "./running.ts";

const COMMANDS = ["strokes", "exchange", "card", "rules", "export", "verify", "import", "replay"];

const folder = temporaryFolders();
/** What the examples call by name: a device's folder and its book's record. */
const homes = { pavilion: "" };
const files = { "club.jsonl": "" };

beforeAll(async () => {
  const club = await playedClub();
  homes.pavilion = folder();
  await fullHome(homes.pavilion, club, 11);
  files["club.jsonl"] = await club.record(null);
});

test("sward alone and with --help lists the commands", async () => {
  for (const line of ["", "--help"]) {
    const { out, err, code } = await sward(line);
    expect({ err, code }).toEqual({ err: "", code: 0 });
    for (const command of COMMANDS) expect(out).toMatch(new RegExp(`^ +${command} `, "m"));
  }
});

test.each(COMMANDS)("%s --help shows --json and an example that works", async (command) => {
  const { out, err, code } = await sward(`${command} --help`);
  expect({ err, code }).toEqual({ err: "", code: 0 });
  expect(out).toContain("--json");
  const examples = [...out.matchAll(/^ {2}sward (.+)$/gm)].map((match) => match[1] ?? "");
  expect(examples.length).toBeGreaterThan(0);
  // A file an example needs is shown above it.
  const shown = [...out.matchAll(/^ {2}((?:date|\d{4}-).*,.*)$/gm)].map((match) => match[1] ?? "");
  for (const example of examples) {
    const ran = await sward(example, { "results.csv": shown.join("\n"), ...files }, "2031-09-30", homes);
    expect(ran, example).toMatchObject({ err: "", code: 0 });
    expect(ran.out, example).not.toBe("");
  }
});

test("what the parser refuses is said like every other refusal, with the way to help", async () => {
  const cases = [
    ["mow", "unknown command 'mow'", "sward --help"],
    ["strokes --side 4 --side 6 --tea", "unknown option '--tea'", "sward strokes --help"],
    ["strokes", "required option '--side <handicaps>' not specified", "sward strokes --help"],
    ["strokes --side 4 --side 6 --format 12", "argument '12' is invalid", "sward strokes --help"],
    ["strokes --side 4 --side", "option '--side <handicaps>' argument missing", "sward strokes --help"],
    ["strokes --side 4 --side 6 7", "too many arguments", "sward strokes --help"],
    ["exchange --play croquet --winner 4 --loser 6", "argument 'croquet' is invalid", "sward exchange --help"],
    ["exchange --play level --winner 4", "required option '--loser <handicap>' not specified", "sward exchange --help"],
  ] as const;
  for (const [line, problem, help] of cases) {
    if (line.endsWith("--side")) {
      // --json behind it would be taken for its value.
      const { out, err, code } = await sward(line);
      expect({ out, code }).toEqual({ out: "", code: 2 });
      expect(err).toContain(problem);
      continue;
    }
    const refused = await refusalOf(line);
    expect(refused.fault.type, line).toBe("command-line");
    expect(refused.message, line).toContain(problem);
    expect(refused.message, line).toContain(help);
  }
});

const bin = fileURLToPath(new URL("../../../packages/client/bin/sward.mjs", import.meta.url));
/** The command as it is installed, in a process and a folder of its own. */
const spawned = (args: readonly string[]) =>
  promisify(execFile)(process.execPath, [bin, ...args], { cwd: tmpdir() }).then(
    ({ stdout, stderr }) => ({ stdout, stderr, code: 0 }),
    (error: { stdout: string; stderr: string; code: number }) => error,
  );

test("the installed command answers from source, with no build", async () => {
  const { stdout, stderr, code } = await spawned([
    "exchange",
    "--play",
    "level",
    "--winner",
    "-2",
    "--loser",
    "-1",
    "--json",
  ]);
  // 100 points of trigger between them: 8 for the stronger, common practice, no source.
  expect({ stdout, stderr, code }).toEqual({ stdout: '{"points":8}\n', stderr: "", code: 0 });
});

test("the installed command refuses with exit code 2 and nothing on standard output", async () => {
  const { stdout, stderr, code } = await spawned(["strokes", "--side", "-2,4", "--side", "13,4"]);
  expect({ stdout, code }).toEqual({ stdout: "", code: 2 });
  expect(stderr).toMatch(/^sward: --side 13,4: There is no handicap 13 in england-2016/);
});
