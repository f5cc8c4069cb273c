/** A club's heading and its people: what a league needs to know of the club before its games are read. */
import type { Day } from "@sward/core";
import { demoPlayer } from "./demo-ids.ts";
import * as forms from "./forms.ts";
import { ClubFile, devicesOf, readHeading } from "./heading.ts";
import type { Line, Reading } from "./table.ts";
import { isFirst, readTable } from "./table.ts";
import type { DemoDevice, DemoPerson, DeviceRef } from "./world.ts";

export interface ClubPerson extends DemoPerson {
  /** First written down on this day; for a member, also the day the starting handicap counts from. */
  readonly start: Day;
  readonly handicap: number | undefined;
  readonly index: number | undefined;
}

export interface ClubHead {
  readonly slug: string;
  readonly file: ClubFile;
  readonly devices: ReadonlyMap<string, DemoDevice>;
  /** The first handicapper's device: it writes down people and carries league matches. */
  readonly officer: DeviceRef;
  readonly people: ReadonlyMap<string, ClubPerson>;
}

const COLUMNS = ["key", "name", "short", "junior", "standing", "home_club", "handicap", "index", "start"];

export function readClubHead(reading: Reading, slug: string, clubs: ReadonlySet<string>): ClubHead | null {
  const folder = `clubs/${slug}`;
  const file = readHeading(reading, `${folder}/club.json`, ClubFile);
  const people = new Map<string, ClubPerson>();
  for (const line of readTable(reading, `${folder}/members.csv`, COLUMNS)) {
    if (isFirst(line, "key", "player", people)) people.set(line.raw("key"), readPerson(line, clubs));
  }
  if (file === null) return null;
  const devices = devicesOf(slug, file);
  const officer = [...devices.values()].find(({ role }) => role === "handicapper");
  if (officer === undefined) throw new Error("a heading is read only with a handicapper's device");
  for (const [place, { holder }] of file.devices.entries()) {
    if (holder !== undefined && !people.has(holder)) {
      reading.faults.push({ type: "demo-json", file: `${folder}/club.json`, member: `devices.${place}.holder` });
    }
  }
  return { slug, file, devices, officer: officer.ref, people };
}

function readPerson(line: Line, clubs: ReadonlySet<string>): ClubPerson {
  const key = line.read("key", forms.key);
  const standing = line.read("standing", forms.standing);
  const home = line.raw("home_club");
  return {
    key,
    player: demoPlayer(key),
    name: line.read("name", forms.text),
    short: line.read("short", forms.text),
    junior: line.read("junior", forms.yes),
    standing,
    home: standing === "member" || home === "" ? null : clubs.has(home) ? { slug: home } : { name: home },
    start: line.read("start", forms.day),
    // A visitor's card is kept by the home club; what it says is written down only when that club is not here to say it.
    handicap: standing === "member" ? line.read("handicap", forms.handicap) : line.maybe("handicap", forms.handicap),
    index: line.maybe("index", forms.index),
  };
}
