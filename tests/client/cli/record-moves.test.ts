/** `sward record`: a player's record taken from one club's device to another's. */
import { canonicalText } from "@sward/core";
import { beforeAll, expect, test } from "vitest";
import { played, player } from "../../support/cast.ts";
import { temporaryFolders } from "../../support/folders.ts";
import { newClub } from "../record/new-club.ts";
import type { SignedClub } from "../record/signed-club.ts";
import { playedClub, save } from "../record/signed-club.ts";
import { fullHome, inHome } from "./pavilion.ts";
import { answerOf, refusalOf, sward } from "./running.ts";

const folder = temporaryFolders();
const ada = player("ada");
let larkhill: SignedClub;
let files: Readonly<Record<string, string>>;
/** A handicapper's device of the club she goes to. */
let home: string;
let millbrook: SignedClub;

beforeAll(async () => {
  larkhill = await playedClub();
  files = {
    "ada.jsonl": await larkhill.record("ada"),
    "club.jsonl": await larkhill.record(null),
  };
  const club = await newClub(40);
  await save(club.root, { kind: "player-joined", body: { player: player("mona"), standing: "member" } });
  await save(club.root, {
    kind: "player-joined",
    body: { player: ada, standing: "visitor", home: { book: larkhill.book } },
  });
  millbrook = club as unknown as SignedClub;
  home = folder();
  await fullHome(home, millbrook, 41);
});

const there = (): string => canonicalText(larkhill.root.state().cards.get(ada));

test("show says whose record it is, who signed it and how that is known, and prints the card", async () => {
  const { out, code } = await sward("record show ada.jsonl", files);
  expect(code).toBe(0);
  expect(out).toContain(`The record of player ${ada}, from Larkhill`);
  expect(out).toContain("it is cut over on 2026-06-15");
  expect(out).toMatch(/recorder +\d+ +\d+ +\S+ \(line \d+\), \S+ \(line \d+\)/);
  expect(out).toMatch(/2026-05-01 +against .+ 7-4 +\+10/);
  expect(await answerOf("record show ada.jsonl", files)).toMatchObject({ player: ada, cutover: "2026-06-15" });
});

test("import is refused with the reason, and nothing is changed", async () => {
  const altered = { "ada.jsonl": files["ada.jsonl"]!.replace(/(.{60})"\n$/, (_, end) => `${end.slice(1)}A"\n`) };
  const cases = [
    [`record import --home ${home} club.jsonl`, "club.jsonl", "taking-whole-book", files],
    [`record import --home ${home} --as ada ada.jsonl`, "--as", "not-a-player-id", files],
    [`record import --home ${home} --as ${player("mona")} ada.jsonl`, "--as", "taking-other-player", files],
    [`record import --home ${home} --cutover 2026-02-30 ada.jsonl`, "--cutover", "not-a-day", files],
    [`record import --home ${home}/nowhere ada.jsonl`, "--home", "home-not-read", files],
    [`record import --home ${home} ada.jsonl`, "ada.jsonl", "record-", altered],
  ] as const;
  const before = (await answerOf(`replay --home ${home}`)) as object;
  for (const [line, at, type, given] of cases) {
    const refused = await refusalOf(line, given);
    expect({ line, at: refused.at }).toEqual({ line, at });
    expect(refused.fault.type).toContain(type);
  }
  expect(await answerOf(`replay --home ${home}`)).toEqual(before);
});

test("import takes the card over, line by line; again it changes nothing, and games go on from it", async () => {
  const first = await sward(`record import --home ${home} --cutover 2026-06-01 ada.jsonl`, files);
  expect(first).toMatchObject({ err: "", code: 0 });
  expect(first.out).toContain("This club's games go on from 2026-06-01.");
  expect(first.out).toContain("Before that day the card is the old club's, line by line.");
  const again = await answerOf(`record import --home ${home} ada.jsonl`, files);
  expect(again).toMatchObject({ cutover: "2026-06-01", entries: null, added: 0, same: true });
  await inHome(home, millbrook, async (book) => {
    expect(canonicalText(book.state().cards.get(ada))).toBe(there());
    const { index, handicap } = book.state().cards.get(ada)!;
    await save(book, {
      kind: "match-reported",
      body: played("2026-06-02", `ada ${handicap}`, `mona ${handicap}`, "7-4"),
    });
    expect(book.state().cards.get(ada)!.index).toBe(index + 10);
  });
});
