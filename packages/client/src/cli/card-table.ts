/** The lines of a card as people read them, in columns: what was played against whom, what it moved and why, and what was set. */
import type { Card, GameLine, LineReason, SetLine } from "@sward/core";
import { columns } from "./columns.ts";

/** What a player or a device is called; an id where nothing is known. */
export type NameOf = (id: string) => string;

const HEAD = ["date", "played with or against", "off", "", "score", "+/-", "index", "handicap", ""];

export function cardTable(card: Card, nameOf: NameOf): string[] {
  return columns(
    HEAD,
    card.lines.map((line) => (line.line === "set" ? setRow(line, nameOf) : gameRow(line, nameOf))),
  );
}

function gameRow(line: GameLine, nameOf: NameOf): (string | number)[] {
  const seat = ({ player, off }: GameLine["opponents"][number]) => `${nameOf(player)} (${off})`;
  const partner = line.partner === null ? "" : `with ${seat(line.partner)} `;
  return [
    line.date,
    `${partner}against ${line.opponents.map(seat).join(" and ")}`,
    line.off,
    line.play === "level" ? "L" : "H",
    line.score.join("-"),
    line.points > 0 ? `+${line.points}` : String(line.points),
    line.index,
    line.handicap,
    gameRemark(line),
  ];
}

function setRow(line: SetLine, nameOf: NameOf): (string | number)[] {
  const { from, to } = line.moved;
  const moved = from === null || from === to ? "" : `${from} to ${to}`;
  const what = `${settings[line.basis]} by ${nameOf(line.by)}: ${line.why}`;
  return [line.date, what, "", "", "", "", line.index, line.handicap, moved];
}

const settings: Readonly<Record<SetLine["basis"], string>> = {
  initial: "first handicap, set",
  discretionary: "set",
  transfer: "brought from another club, set",
};

/** Why a line moved nothing; nothing to say where it did. */
const remarks: Readonly<Record<LineReason, string>> = {
  start: "",
  discretionary: "",
  transfer: "",
  "handicap-singles": "",
  "handicap-doubles": "",
  "level-singles": "",
  "level-doubles": "",
  "doubles-do-not-count": "doubles move no index",
  "occasion-does-not-count": "does not count",
  "excluded-beforehand": "both clubs agreed beforehand that it does not count",
  abandoned: "abandoned: does not count",
  walkover: "walkover: does not count",
  drawn: "drawn: no points",
  "table-not-readable": "the table of points could not be read: no points",
  "handicap-not-in-table": "a handicap played off is not in the table: no points",
  "before-start": "before the first handicap",
};

function gameRemark({ reason, moved, notice, confirmed }: GameLine): string {
  const day = moved === null || moved.after === null ? "" : ` from the day after ${moved.after}`;
  return [
    remarks[reason],
    moved === null ? "" : `${moved.from} to ${moved.to}${day}, ${moved.trigger} reached`,
    notice === null ? "" : `played off ${notice.off}, the record says ${notice.record}`,
    confirmed ? "" : "one report",
  ]
    .filter((part) => part !== "")
    .join("; ");
}
