import { expect, test } from "vitest";
import type { Columns } from "../../../../packages/client/src/app/files/matching.ts";
import { fileKind, guessColumns, withColumn } from "../../../../packages/client/src/app/files/matching.ts";
import { readTable } from "../../../../packages/client/src/app/files/reading.ts";

const known = new Set(["Ada Wren", "Bo Linnet", "Cass Thorley", "Dov Marram"]);
const guess = (...lines: string[]): Columns => {
  const read = readTable(lines.join("\n"));
  if (!read.ok) throw new Error(read.fault.type);
  return guessColumns(read.value, (text) => known.has(text));
};

test("headings are known in the words people use", () => {
  expect(
    guess("Date,Winner,H'cap,Loser,Opp. H'cap,Score,H/L,Competition,remarks", "1/6/2031,Ada,7,Bo,9,7-4,H,Cup,x"),
  ).toEqual(["date", "player", "handicap", "opponent", "opponentHandicap", "score", "play", "event", null]);
  expect(guess("player 1,player 2,score,score 2", "Ada,Bo,7,4")).toEqual([
    "player",
    "opponent",
    "hoops",
    "opponentHoops",
  ]);
});

test("without a heading what stands below tells", () => {
  expect(guess("1/6/2031\tAda Wren\t7\tBo Linnet\t9\t7-4\tH", "2/6/2031\tBo Linnet\t9\tMist\t4\t3-7\tL")).toEqual([
    "date",
    "player",
    "handicap",
    "opponent",
    "opponentHandicap",
    "score",
    "play",
  ]);
  // Two numbers of which one wins are hoops, though they stand behind a name.
  expect(guess("Ada Wren,Bo Linnet,7,4", "Cass Thorley,Dov Marram,2,7")).toEqual([
    "player",
    "opponent",
    "hoops",
    "opponentHoops",
  ]);
  expect(
    guess(
      "Ada Wren,Bo Linnet,Cass Thorley,Dov Marram,7-5,13,ad-hoc",
      "Bo Linnet,Ada Wren,Cass Thorley,Dov Marram,7-5,13,ad-hoc",
    ),
  ).toEqual(["player", "partner", "opponent", "opponentPartner", "score", "format", "occasion"]);
});

test("what nobody can tell has no meaning, and nothing is there twice", () => {
  expect(guess("7-4,blue,7-5", "7-3,red,7-2")).toEqual(["score", null, null]);
  expect(guess("date,day,player,opponent", "1/6/2031,Monday,Ada,Bo")).toEqual(["date", null, "player", "opponent"]);
});

test("a meaning given to a column is taken from the one that had it", () => {
  expect(withColumn(["player", "opponent", null], 2, "player")).toEqual([null, "opponent", "player"]);
  expect(withColumn(["player", "opponent"], 0, null)).toEqual([null, "opponent"]);
});

test("files of one kind have one name, whatever the case of their headings", () => {
  const kind = (text: string): string => {
    const read = readTable(text);
    return read.ok ? fileKind(read.value) : "";
  };
  expect(kind("Date,Player,Score\n1/6/2031,Ada,7-4")).toBe(kind("date;PLAYER;Score \n2/6/2031;Bo;7-5"));
  expect(kind("Date,Player\n1/6/2031,Ada")).not.toBe(kind("Date,Opponent\n1/6/2031,Ada"));
});
