/** What leaves the club has no junior's full name: paper, a league's record, a record file. */
import type { PlayerId } from "@sward/core";
import { expect, test } from "vitest";
import { namedOnPaper } from "../../../../packages/client/src/app/print/named-on-paper.ts";
import { readSources, withoutComments } from "../../../support/sources.ts";

const tess = "AQEBAQEBAQEBAQEBAQEBAQ" as PlayerId;
const state = () => ({ players: new Map() });
const deskWith = (junior: boolean) => {
  const record = { name: "Tess Marlow", short: "Tess M.", junior };
  return { club: { state, roster: { get: () => record } }, leagues: [] };
};

test("on paper a junior goes by the short name, and by the full one from eighteen on", () => {
  expect(namedOnPaper(deskWith(true))(tess)).toEqual({ name: "Tess M.", short: "Tess M." });
  expect(namedOnPaper(deskWith(false))(tess)).toEqual({ name: "Tess Marlow", short: "Tess M." });
});

test("what is drawn for paper asks for names as paper has them; only the card's own person is named in full", () => {
  const paper = readSources(["packages/client/src/app/card", "packages/client/src/app/print"], [".tsx"]).filter(
    ({ path }) => /(card-print|fold-card|sheet-slots|wall-screen|handicaps-screen|report-screen)\.tsx$/.test(path),
  );
  expect(paper.length).toBe(6);
  const inFull = paper.flatMap(({ path, text }) =>
    [...withoutComments(text).matchAll(/\bnameOf\b(?!\(card\.player\))(?! *[,}])[^\n]*|, nameOf\)/g)].map(
      ([use]) => `${path}: ${use}`,
    ),
  );
  expect(inFull).toEqual([]);
});
