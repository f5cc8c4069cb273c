/** `sward slip`: results from a club's device to the home club's. */
import { beforeAll, expect, test } from "vitest";
import { played, player } from "../../support/cast.ts";
import { temporaryFolders } from "../../support/folders.ts";
import { newClub } from "../record/new-club.ts";
import type { SignedClub } from "../record/signed-club.ts";
import { playedClub, save } from "../record/signed-club.ts";
import { fullHome, inHome } from "./pavilion.ts";
import { answerOf, refusalOf, sward } from "./running.ts";

const folder = temporaryFolders();
const [ada, guest] = [player("ada"), player("guest")];
let larkhill: SignedClub;
/** Devices of the home club and of the one away. */
let home: string;
let away: string;
let files: Readonly<Record<string, string>>;

beforeAll(async () => {
  larkhill = await playedClub();
  const millbrook = await newClub(40);
  const { root } = millbrook;
  await save(root, { kind: "player-joined", body: { player: guest, standing: "visitor" } });
  await save(root, { kind: "player-joined", body: { player: player("mona"), standing: "member" } });
  await save(root, { kind: "match-reported", body: played("2026-05-08", "guest 6", "mona 9", "7-2") });
  await save(root, { kind: "match-reported", body: played("2026-05-10", "guest 6", "mona 9", "5-7") });
  [home, away] = [folder(), folder()];
  await fullHome(home, larkhill, 11);
  await fullHome(away, millbrook as unknown as SignedClub, 41);
  files = (await sward(`slip out --home ${away} --player ${guest} --out slip.jsonl`)).written;
});

test("out writes the results of some days; show says who signed them and how that is known", async () => {
  expect(await answerOf(`slip out --home ${away} --player ${guest} --out slip.jsonl`)).toEqual({
    file: "slip.jsonl",
    results: 2,
  });
  const later = await answerOf(`slip out --home ${away} --player ${guest} --from 2026-05-09 --out slip.jsonl`);
  expect(later).toMatchObject({ results: 1 });
  const { out } = await sward("slip show slip.jsonl", files);
  expect(out).toContain("A slip from Millbrook");
  expect(out).toMatch(/2026-05-08 +\S+ \(6\) against \S+ \(9\) +7-2/);
  const { results } = (await answerOf("slip show slip.jsonl", files)) as { results: object[] };
  expect(results).toMatchObject([
    { uncounted: null, known: [] },
    { uncounted: null, known: [] },
  ]);
});

test("refused with the reason, and nothing is changed", async () => {
  const before = await answerOf(`replay --home ${home}`);
  const altered = {
    "slip.jsonl": files["slip.jsonl"]!.replace(/.(.{10})"\n$/, (end) => `${end[0] === "A" ? "B" : "A"}${end.slice(1)}`),
  };
  const cases = [
    [`slip in --home ${home} slip.jsonl`, "slip.jsonl", "slip-nobody", files],
    [`slip in --home ${home} slip.jsonl`, "slip.jsonl", "record-forged", altered],
    [`slip in --home ${away} slip.jsonl`, "slip.jsonl", "slip-own-book", files],
    [`slip in --home ${home} --is ${ada} slip.jsonl`, "--player", "not-a-player-id", files],
    [
      `slip in --home ${home} --player ${guest} --is ${player("nobody")} slip.jsonl`,
      "slip.jsonl",
      "slip-nobody",
      files,
    ],
    [`slip out --home ${away} --player ${ada} --out slip.jsonl`, "--player", "slip-nothing", files],
    [`slip out --home ${away} --player ${guest} --to 2026 --out slip.jsonl`, "--to", "not-a-day", files],
  ] as const;
  for (const [line, at, type, given] of cases) {
    const refused = await refusalOf(line, given);
    expect({ line, at: refused.at, type: refused.fault.type }).toEqual({ line, at, type });
  }
  expect(await answerOf(`replay --home ${home}`)).toEqual(before);
  const { message } = await refusalOf(`slip in --home ${home} slip.jsonl`, altered);
  expect(message).toMatch(/Line \d+ has been altered.* It gives itself out as a result/);
});

test("in puts the results on the member's card, and the same slip again changes nothing", async () => {
  const line = `slip in --home ${home} --player ${guest} --is ${ada} slip.jsonl`;
  expect(await answerOf(line, files)).toMatchObject({ players: [ada], added: 2, known: 0, unconfirmed: 0 });
  const again = await sward(`slip in --home ${home} slip.jsonl`, files);
  expect(again).toMatchObject({ err: "", code: 0 });
  expect(again.out).toContain("All of it was here already: nothing was changed.");
  await inHome(home, larkhill, async (book) => {
    const dates = book
      .state()
      .cards.get(ada)!
      .lines.map(({ date }) => date);
    expect(dates.slice(-2)).toEqual(["2026-05-08", "2026-05-10"]);
  });
});
