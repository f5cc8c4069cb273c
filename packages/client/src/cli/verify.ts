/** `sward verify`: a record file checked with nothing but the file. */
import type { KeyId, Uncounted } from "@sward/core";
import { Command } from "commander";
import { PREVAIL } from "../messages.ts";
import type { SignerReport } from "../record/signers.ts";
import type { RecordReport } from "../record/verify.ts";
import { verifyRecordFile } from "../record/verify.ts";
import { answer, refuse } from "./answer.ts";
import { columns } from "./columns.ts";
import type { CliDeps } from "./deps.ts";
import { jsonOption } from "./options.ts";

export function verifyCommand(deps: CliDeps): Command {
  return new Command("verify")
    .summary("check a record file")
    .description(
      "Checks a record with nothing but the file: every signature, who was allowed to sign, whether all of it is there; and shows the cards it comes to.",
    )
    .argument("<file>", "a record written by sward export")
    .addOption(jsonOption())
    .addHelpText("after", HELP)
    .action(async (path: string, options: { readonly json?: true }) => {
      const asJson = options.json === true;
      const text = await deps.readFile(path);
      if (!text.ok) return refuse(deps, asJson, { fault: text.fault });
      const verified = await verifyRecordFile(text.value);
      if (!verified.ok) return refuse(deps, asJson, { fault: verified.fault, at: path });
      return answer(deps, asJson, { json: verified.value.report, text: asText(verified.value.report) });
    });
}

const HELP = `
A book is named after its root key: that the file is your club's you know when the book's id is the one your club gives out.

Example:
  sward verify club.jsonl`;

/** Enough of a key id to tell two apart by eye; --json has all of it. */
export const shortKey = (key: KeyId): string => key.slice(0, 10);

function asText(report: RecordReport): string {
  const whose = report.player === null ? "The whole book" : `The record of player ${report.player}`;
  return [
    `${report.name} (${report.as}), book ${report.book}`,
    `${whose}: ${report.entries} entries. Every signature holds and none is missing.`,
    exporterText(report),
    "",
    "Signed by",
    ...columns(["key", "role", "entries", "count", "known through"], report.signers.map(signerRow)).map(
      (line) => `  ${line}`,
    ),
    ...barredText(report.barred),
    ...uncountedText(report.uncounted),
    "",
    ...cardsText(report),
    "",
    PREVAIL,
  ].join("\n");
}

function exporterText({ at, exporter, player }: RecordReport): string {
  const written = `Written ${at} by ${shortKey(exporter.key)}`;
  const complete = player === null ? "complete" : "all there is of the player";
  return exporter.admitted
    ? `${written}, ${exporter.role} of the book, who vouches that it is ${complete}.`
    : `${written}, who is NOT admitted to the book: nobody vouches that it is ${complete}.`;
}

export function signerRow({ key, role, entries, counted, barred, known }: SignerReport): (string | number)[] {
  const path = known.map(({ by, line }) => `${shortKey(by)} (line ${line})`).join(", ");
  const through = role === null ? "nobody admitted it" : path === "" ? "the book is named after it" : path;
  return [shortKey(key), `${role ?? "none"}${barred ? ", barred" : ""}`, entries, counted, through];
}

const barredText = (barred: readonly KeyId[]): string[] =>
  barred.length === 0 ? [] : [`Barred: ${barred.map(shortKey).join(", ")}.`];

const reasons: Readonly<Record<Uncounted, string>> = {
  "not-understood": "of a later version of Sward",
  "waiting-for-earlier": "waiting for an earlier one",
  forked: "after a device wrote two entries in one place",
  "after-bar": "after the bar of a device",
  "not-admitted": "by a device that was not admitted",
  "role-may-not": "by a device whose role does not allow it",
  "may-not-correct": "correcting what the device may not correct",
  "wrong-book": "of another book",
  "carried-copy-invalid": "a copy that does not hold",
  "cannot-be": "a match that cannot be",
  "second-opening": "a second opening",
  "not-this-kind-of-book": "of a kind that does not belong in this book",
};

const uncountedText = (uncounted: RecordReport["uncounted"]): string[] =>
  uncounted.map(({ reason, entries }) => `Does not count: ${entries} (${reasons[reason]}).`);

function cardsText({ cards, as, player }: RecordReport): string[] {
  if (cards.length === 0) {
    return [as === "league" ? "A league keeps no cards." : player === null ? "No cards." : "No card."];
  }
  return columns(
    ["player", "handicap", "index", "lines", "signed up to"],
    cards.map(({ player: id, handicap, index, lines, signatures }) => [
      id,
      handicap,
      index,
      lines.length,
      signatures.findLast(({ standing }) => standing === "holds")?.upto ?? "",
    ]),
  );
}
