/** The list of devices, and what each role may do, held to what a book really answers. */
import type { Counted, KnownEntry } from "@sward/core";
import { expect, test } from "vitest";
import { deeds, mayDo } from "../../../../packages/client/src/app/devices/deeds.ts";
import { deviceLines } from "../../../../packages/client/src/app/devices/device-lines.ts";
import type { Pen, Written } from "../../../support/cast.ts";
import { Club, played, player } from "../../../support/cast.ts";

const counts = (club: Club, written: Written): boolean => !club.state().uncounted.has(written.id);

/** What is written down of each deed, by a device of the role. */
const tried: Readonly<Record<string, (pen: Pen, club: Club) => readonly Written[]>> = {
  report: (pen) => {
    const match = pen.reports(played("2026-05-01", "ada 7", "ben 9", "7-4"));
    return [match, pen.withdraws(match)];
  },
  visitor: (pen) => [pen.joins("Visitor", "visitor")],
  member: (pen) => [pen.joins("Newcomer"), pen.writes("player-left", { player: player("ben"), on: "2026-05-02" })],
  correct: (pen, club) => [pen.withdraws(club.root.reports(played("2026-05-01", "ada 7", "ben 9", "7-3")))],
  set: (pen) => [pen.sets("ada", 6, "2026-05-01")],
  sign: (pen) => [pen.signs("ada", "2026-05-01")],
  settle: (pen) => [pen.rules("a match", null)],
  rules: (pen) => [pen.adopts("england-2016", "2026-06-01"), pen.writes("policy-set", { unconfirmed: "waits" })],
  admit: (pen) => [pen.writes("device-admitted", { device: new Club("other").root.key.publicKey, role: "reader" })],
  bar: (pen, club) => [pen.bars(club.root.admits("spare recorder", "recorder"), null)],
  "bar-handicapper": (pen, club) => [pen.bars(club.root.admits("spare handicapper", "handicapper"), null)],
};

test("what the table of roles says a role may do is what a book counts of it, and no more", () => {
  const told: Record<string, string> = {};
  const answered: Record<string, string> = {};
  for (const { name, may } of deeds) {
    const attempt = tried[name];
    if (attempt === undefined) continue;
    for (const role of ["root", "handicapper", "recorder", "reader"] as const) {
      const club = new Club("Larkfield");
      club.member("ada", 7);
      club.member("ben", 9);
      const pen = role === "root" ? club.root : club[role];
      const written = attempt(pen, club);
      told[`${role}: ${name}`] = may[role] ? "may" : "may not";
      answered[`${role}: ${name}`] = written.every((one) => counts(club, one)) ? "may" : "may not";
    }
  }
  expect(Object.keys(told).length).toBe(4 * Object.keys(tried).length);
  expect(answered).toEqual(told);
  // Every other deed is named here, so that a new one is tried too.
  expect(deeds.map(({ name }) => name).filter((name) => tried[name] === undefined)).toEqual(["read", "erase"]);
});

test("a device that is barred or not admitted may read and nothing else", () => {
  for (const office of ["none", "barred"] as const) {
    expect(deeds.filter((deed) => mayDo(deed, office)).map(({ name }) => name)).toEqual(["read"]);
  }
  expect(deeds.filter((deed) => mayDo(deed, "reader")).map(({ name }) => name)).toEqual(["read"]);
});

const at = (written: Written, moment: string): Counted => ({
  entry: { ...(written.entry as KnownEntry), at: moment },
  origin: written.entry.book,
});

test("a device's line says when it was admitted and when it was last heard of; the barred come last", () => {
  const club = new Club("Larkfield");
  const spare = club.handicapper.admits("spare", "recorder");
  const [one, two] = ["7-4", "7-5"].map((score) =>
    club.recorder.reports(played("2026-05-01", "ada 7", "ben 9", score)),
  );
  club.handicapper.bars(spare, null);
  const admission = club.written.find(
    ({ entry }) => entry.understood && entry.kind === "device-admitted" && entry.author === club.handicapper.id,
  );
  const lines = deviceLines(club.state(), [
    at(admission as Written, "2026-04-02T09:00:00Z"),
    at(two as Written, "2026-05-03T18:00:00Z"),
    at(one as Written, "2026-05-01T18:00:00Z"),
    { ...at(one as Written, "2026-09-09T09:09:09Z"), origin: "another book" as never },
  ]);
  expect(lines.map(({ device }) => device.device)).toEqual([
    club.root.id,
    club.recorder.id,
    club.handicapper.id,
    club.reader.id,
    spare.id,
  ]);
  expect(lines[1]).toMatchObject({ admittedAt: "2026-04-02T09:00:00Z", heardAt: "2026-05-03T18:00:00Z" });
  expect(lines[0]).toMatchObject({ admittedAt: null, heardAt: null });
  expect(lines[4]?.device.barred).toBe(true);
});
