/**
 * From the files of the demo clubs to what their devices write. Pure: file texts in, a world or everything that is wrong with the
 * files out. A club is a folder with a `club.json`, a league one with a `league.json`; other files are for people.
 *
 * Rejected: entries made while reading (keys and signatures would be needed to check a spelling).
 */
import type { Result } from "@sward/core";
import { byCodeUnits, fail, ok } from "@sward/core";
import type { LeagueReport } from "./club.ts";
import { readClub } from "./club.ts";
import type { ClubHead } from "./club-people.ts";
import { readClubHead } from "./club-people.ts";
import type { DemoFault } from "./faults.ts";
import { readLeague } from "./league.ts";
import type { Reading } from "./table.ts";
import type { DemoLeague, DemoWorld } from "./world.ts";

/** `files`: texts by path from the folder of the demo clubs, such as `clubs/ferncombe/games.csv`. */
export function readDemo(files: ReadonlyMap<string, string>): Result<DemoWorld, readonly DemoFault[]> {
  const reading: Reading = { files, faults: [] };
  const slugs = foldersWith(files, /^clubs\/([a-z0-9-]+)\/club\.json$/);
  if (slugs.length === 0) return fail([{ type: "demo-no-clubs" }]);

  const heads = new Map<string, ClubHead>();
  for (const slug of slugs) {
    const head = readClubHead(reading, slug, new Set(slugs));
    if (head !== null) heads.set(slug, head);
  }
  const leagues: DemoLeague[] = [];
  const reports: LeagueReport[] = [];
  for (const slug of foldersWith(files, /^leagues\/([a-z0-9-]+)\/league\.json$/)) {
    const read = readLeague(reading, slug, heads);
    if (read === null) continue;
    leagues.push(read.league);
    reports.push(...read.reports);
  }
  const clubs = [...heads.values()].map((head) => readClub(reading, head, reports));
  return reading.faults.length === 0 ? ok({ clubs, leagues }) : fail(reading.faults);
}

function foldersWith(files: ReadonlyMap<string, string>, heading: RegExp): string[] {
  return [...files.keys()].flatMap((path) => heading.exec(path)?.[1] ?? []).sort(byCodeUnits);
}
