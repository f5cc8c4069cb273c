import { execFile } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { canonicalText } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import { player } from "../../support/cast.ts";
import { temporaryFolders } from "../../support/folders.ts";
import { stateText } from "../../support/state-text.ts";
import type { SignedClub } from "../record/signed-club.ts";
import { playedClub } from "../record/signed-club.ts";
import { emptyHome, fullHome, inHome } from "./pavilion.ts";
import { answerOf, refusalOf, sward } from "./running.ts";

const folder = temporaryFolders();
let club: SignedClub;
/** The handicapper's device. */
let home: string;
/** Its club's record, and ada's. */
let files: Readonly<Record<string, string>>;

beforeAll(async () => {
  club = await playedClub();
  home = folder();
  await fullHome(home, club, 11);
  const whole = await sward(`export --home ${home} --out club.jsonl`);
  const part = await sward(`export --home ${home} --player ${player("ada")} --out ada.jsonl`);
  files = { ...whole.written, ...part.written };
});

const entriesIn = (text = ""): number => text.split("\n").length - 2;

test("export writes the whole book, or one player's record, and says how much", async () => {
  expect(Object.keys(files)).toEqual(["club.jsonl", "ada.jsonl"]);
  const said = await sward(`export --home ${home} --out club.jsonl`);
  expect(said).toMatchObject({ err: "", code: 0, written: { "club.jsonl": files["club.jsonl"] } });
  expect(said.out).toMatch(/^16 entries, the whole book, written to club\.jsonl\.\n/);
  expect(said.out).toContain(`Book ${club.book}`);
  const part = (await answerOf(`export --home ${home} --player ${player("ada")} --out ada.jsonl`)) as object;
  const expected = {
    v: 1,
    book: club.book,
    player: player("ada"),
    entries: entriesIn(files["ada.jsonl"]),
    leftOut: 0,
    file: "ada.jsonl",
  };
  expect(part).toMatchObject({ ...expected, at: "2031-09-30T12:00:00Z" });
  expect(entriesIn(files["ada.jsonl"])).toBeLessThan(16);
});

test("export without a file prints the record itself, with --json as a list in one line", async () => {
  const { out, code } = await sward(`export --home ${home} --player ${player("ada")}`);
  expect({ out, code }).toEqual({ out: files["ada.jsonl"], code: 0 });
  const { record } = (await answerOf(`export --home ${home} --player ${player("ada")}`)) as { record: string[] };
  expect(record.map((jws) => `${JSON.stringify(jws)}\n`).join("")).toBe(files["ada.jsonl"]);
});

test("a record says no name of anybody", () => {
  const said = Object.values(files)
    .join("")
    .split("\n")
    .map((line) => Buffer.from(line.split(".")[1] ?? "", "base64url").toString());
  expect(said.join("")).toContain("match-reported");
  expect(said.join("")).not.toMatch(/Wren|Linnet|Thorley/);
});

test("export is refused with the reason: no device, no such folder, player, book or place to write", async () => {
  const nobody = player("nobody");
  const cases = [
    ["export", undefined, "command-line", "--home"],
    [`export --from club.jsonl --player ${player("ada")}`, "--from", "export-needs-device", "a file cannot sign"],
    [`export --home ${home}/nowhere`, "--home", "home-not-read", "pass.json"],
    [`export --home ${home} --player ada`, "--player", "not-a-player-id", '"ada" is not a player\'s id'],
    [`export --home ${home} --player ${nobody}`, "--player", "export-unknown-player", nobody],
    [`export --home ${home} --book ${nobody}`, "--book", "home-no-such-book", club.book],
    [`export --home ${home} --out records/`, "--out", "file-not-written", "It is a folder."],
  ] as const;
  for (const [line, at, type, word] of cases) {
    const refused = await refusalOf(line, files);
    expect({ at: refused.at, type: refused.fault.type }, line).toEqual({ at, type });
    expect(refused.message, line).toContain(word);
  }
  const empty = folder();
  await emptyHome(empty, club, 13);
  expect((await refusalOf(`export --home ${empty}`)).fault.type).toBe("export-no-opening");
});

test("verify says whose record it is, who signed what, how each is known, and the cards", async () => {
  const { out, err, code } = await sward("verify club.jsonl", files);
  expect({ err, code }).toEqual({ err: "", code: 0 });
  expect(out).toContain(`Larkhill (club), book ${club.book}\n`);
  expect(out).toContain("The whole book: 16 entries. Every signature holds and none is missing.");
  const { handicapper, recorder, root } = club.signers;
  expect(out).toMatch(new RegExp(`by ${handicapper.id.slice(0, 10)}, handicapper of the book, who vouches`));
  expect(out).toMatch(new RegExp(`^  ${root.id.slice(0, 10)}  root +3 +3  the book is named after it$`, "m"));
  expect(out).toMatch(
    new RegExp(
      `^  ${recorder.id.slice(0, 10)}  recorder +5 +5  ${handicapper.id.slice(0, 10)} \\(line \\d\\), ${root.id.slice(0, 10)} \\(line \\d\\)$`,
      "m",
    ),
  );
  expect(out).toMatch(new RegExp(`^${player("ada")} +6 +1400 +4 *$`, "m"));
  expect(out).toContain("always prevail");

  const report = (await answerOf("verify ada.jsonl", files)) as { player: string; cards: unknown };
  expect(report).toMatchObject({ player: player("ada"), exporter: { key: handicapper.id, admitted: true } });
  expect(canonicalText(report.cards)).toBe(canonicalText([club.root.state().cards.get(player("ada"))]));
});

const spoilt = (): Readonly<Record<string, readonly [string, string, string]>> => {
  const good = files["club.jsonl"] ?? "";
  const lines = good.split("\n");
  return {
    "cut.jsonl": [good.slice(0, -700), "record-truncated", "missing"],
    "short.jsonl": [`${lines.slice(0, -3).join("\n")}\n`, "record-truncated", "2 entries are missing"],
    "altered.jsonl": [
      `${good.slice(0, -30)}${good.at(-30) === "A" ? "B" : "A"}${good.slice(-29)}`,
      "record-forged",
      "Line 17 has been altered",
    ],
    "headless.jsonl": [lines.slice(1).join("\n"), "record-manifest-missing", "Line 1"],
    "letter.jsonl": ["Dear Sir,\n", "record-not-json", "Line 1"],
    "empty.jsonl": ["", "record-empty", "empty"],
    "blank.jsonl": [good.replace("\n", "\n\n"), "record-blank-line", "Line 2"],
  };
};

test("a file that is cut, altered or something else is refused by every command with the line, and the device is as it was", async () => {
  const bad = spoilt();
  const given = Object.fromEntries(Object.entries(bad).map(([name, [text]]) => [name, text]));
  const before = await inHome(home, club, async (book) => [stateText(book.state()), book.digest()]);
  for (const [name, [, type, word]] of Object.entries(bad)) {
    for (const command of ["verify", "replay", `import --home ${home}`]) {
      const refused = await refusalOf(`${command} ${name}`, given);
      expect({ at: refused.at, type: refused.fault.type }, `${command} ${name}`).toEqual({ at: name, type });
      expect(refused.message).toContain(word);
      expect(refused.fault).toHaveProperty("line");
    }
  }
  expect(await inHome(home, club, async (book) => [stateText(book.state()), book.digest()])).toEqual(before);
  expect((await refusalOf("verify nowhere.jsonl")).fault.type).toBe("file-not-read");
});

test("import fills a device that lost everything, says how many were new, and changes nothing a second time", async () => {
  const lost = folder();
  await emptyHome(lost, club, 13);
  const first = await sward(`import --home ${lost} club.jsonl`, files);
  expect(first).toMatchObject({ err: "", code: 0 });
  expect(first.out).toBe(`16 entries in the record: 16 new, saved in ${lost}; 0 were there already.\n`);
  const text = await inHome(lost, club, async (book) => stateText(book.state()));
  expect(text).toBe(stateText(club.root.state()));
  const second = await answerOf(`import --home ${lost} club.jsonl`, files);
  expect(second).toEqual({ book: club.book, entries: 16, added: 0, known: 16, waiting: 0 });
  expect(await inHome(lost, club, async (book) => stateText(book.state()))).toBe(text);
});

test("import of one player's record says that entries wait", async () => {
  const lost = folder();
  await emptyHome(lost, club, 13);
  const { out } = await sward(`import --home ${lost} ada.jsonl`, files);
  expect(out).toMatch(/\d+ entries of this book wait for earlier ones/);
  expect(await answerOf(`import --home ${lost} club.jsonl`, files)).toMatchObject({
    known: entriesIn(files["ada.jsonl"]),
    waiting: 0,
  });
});

test("a record of another club is refused, with what cannot be done yet, and the device is as it was", async () => {
  const other = await playedClub(40);
  const theirs = { "theirs.jsonl": await other.record(null), "member.jsonl": await other.record("ada") };
  const before = await inHome(home, club, async (book) => book.digest());
  const whole = await refusalOf(`import --home ${home} theirs.jsonl`, theirs);
  expect(whole).toMatchObject({
    at: "theirs.jsonl",
    fault: { type: "import-other-book", book: other.book, name: "Larkhill", ofPlayer: false },
  });
  const member = await refusalOf(`import --home ${home} member.jsonl`, theirs);
  expect(member.message).toContain("a player who comes from another club is another matter");
  expect(await inHome(home, club, async (book) => book.digest())).toBe(before);
  expect(readdirSync(home).sort()).toEqual([club.book, "pass.json"].sort());
});

test("import into a folder that is none, or is open elsewhere, is refused", async () => {
  expect((await refusalOf(`import --home ${home}/nowhere club.jsonl`, files)).fault.type).toBe("home-not-read");
  expect((await refusalOf("import club.jsonl", files)).fault.type).toBe("command-line");
  await inHome(home, club, async () => {
    const refused = await refusalOf(`import --home ${home} club.jsonl`, files);
    expect({ at: refused.at, type: refused.fault.type }).toEqual({ at: "--home", type: "home-in-use" });
  });
});

test("replay prints every card: with names from the roster, or from a file, or ids", async () => {
  const byRoster = await sward(`replay --home ${home}`);
  expect(byRoster).toMatchObject({ err: "", code: 0 });
  const card = byRoster.out.slice(byRoster.out.indexOf("Ada Wren ("), byRoster.out.indexOf("\nBen Linnet ("));
  const { handicap, index } = club.root.state().cards.get(player("ada"))!;
  expect(card).toMatch(new RegExp(`^Ada Wren \\(${player("ada")}\\): handicap ${handicap}, index ${index}\n`));
  expect(card).toMatch(/^2026-01-01 +first handicap, set by .+: first handicap +1390 +7/m);
  expect(card).toMatch(
    /^2026-05-01 +against Ben Linnet \(9\) +7 +H +7-4 +\+10 +1400 +6 +7 to 6 from the day after 2026-05-01, 1400 reached; one report$/m,
  );
  expect(byRoster.out.indexOf("\nBen Linnet (")).toBeLessThan(byRoster.out.indexOf("\nCat Thorley ("));

  const names = { ...files, "names.csv": `id,name\n${player("ada")},"Wren, Ada"\n\n` };
  const byFile = await sward("replay club.jsonl --names names.csv", names);
  expect(byFile.out).toContain(`Wren, Ada (${player("ada")}): handicap`);
  expect(byFile.out).toContain(`\n${player("ben")}: handicap`);
  const one = await sward("replay ada.jsonl", files);
  expect(one.out).toContain(": 1 card\n");
  expect(one.out).not.toContain(`\n${player("ben")}: handicap`);
});

test("replay --json is canonical and the same from the device as from its record", async () => {
  const [device, file] = [await sward(`replay --home ${home} --json`), await sward("replay club.jsonl --json", files)];
  expect(device.out).toBe(file.out);
  expect(file.out).toBe(`${canonicalText(JSON.parse(file.out))}\n`);
  const { cards } = JSON.parse(file.out) as { cards: { player: string }[] };
  expect(cards.map((card) => card.player)).toEqual(["ada", "ben", "cat"].map(player).sort());
});

test("replay is refused: file and folder both or neither, names that cannot be read", async () => {
  const names = (text: string) => ({ ...files, "names.csv": text });
  const cases = [
    ["replay", {}, undefined, "command-line", "either"],
    [`replay club.jsonl --home ${home}`, files, undefined, "command-line", "either"],
    ["replay club.jsonl --names names.csv", names("who,called\n"), "names.csv", "names-heading", "who, called"],
    ["replay club.jsonl --names names.csv", names("id,name\nada,Ada\n"), "names.csv", "names-value", "Line 2, id"],
    [
      "replay club.jsonl --names names.csv",
      names(`id,name\n${player("ada")},\n`),
      "names.csv",
      "names-value",
      "Line 2, name",
    ],
    ["replay club.jsonl --names names.csv", files, "names.csv", "file-not-read", "names.csv"],
  ] as const;
  for (const [line, given, at, type, word] of cases) {
    const refused = await refusalOf(line, given);
    expect({ at: refused.at, type: refused.fault.type }, line).toEqual({ at, type });
    expect(refused.message, line).toContain(word);
  }
});

const bin = fileURLToPath(new URL("../../../packages/client/bin/sward.mjs", import.meta.url));
/** The command as it is installed, in a process of its own, with the disk for files. */
const spawned = (cwd: string, ...args: readonly string[]) =>
  promisify(execFile)(process.execPath, [bin, ...args], { cwd }).then(
    ({ stdout, stderr }) => ({ stdout, stderr, code: 0 }),
    (error: { stdout: string; stderr: string; code: number }) => error,
  );

test("the installed command writes a file that the installed command verifies, and says when it cannot", async () => {
  const cwd = folder();
  expect(await spawned(cwd, "export", "--home", home, "--out", "club.jsonl")).toMatchObject({ stderr: "", code: 0 });
  const { stdout, stderr, code } = await spawned(cwd, "verify", "club.jsonl", "--json");
  expect({ stderr, code }).toEqual({ stderr: "", code: 0 });
  expect(JSON.parse(stdout)).toMatchObject({ book: club.book, entries: 16, digest: club.root.digest() });
  const refused = await spawned(cwd, "export", "--home", home, "--out", "nowhere/club.jsonl");
  expect(refused).toMatchObject({ stdout: "", code: 2 });
  expect(refused.stderr).toMatch(/^sward: --out: The file nowhere\/club\.jsonl could not be written\./);
});

test("the pass stays what it was through all of this", () => {
  expect(JSON.parse(readFileSync(`${home}/pass.json`, "utf8"))).toMatchObject({ v: 1, label: "Larkhill pavilion" });
});
