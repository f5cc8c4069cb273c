/**
 * A league's folder as the writings of its book. The league's root admits the clubs, each club's root its own devices; both clubs
 * report the same matches, each its own side first.
 */
import type { FixtureId, MatchReported, PublicKey } from "@sward/core";
import { keyIdOf } from "@sward/core";
import type { LeagueReport } from "./club.ts";
import { reported, says } from "./club.ts";
import type { ClubHead, ClubPerson } from "./club-people.ts";
import { demoFixture } from "./demo-ids.ts";
import type { Slot } from "./forms.ts";
import * as forms from "./forms.ts";
import { devicesOf, LeagueFile, readHeading, rootDevice, rootOf } from "./heading.ts";
import { checkTold, MATCH_COLUMNS, readDayAfter, readTold, readWriter } from "./match-line.ts";
import type { Scroll } from "./scroll.ts";
import { createScroll } from "./scroll.ts";
import type { Line, Reading } from "./table.ts";
import { isFirst, readTable } from "./table.ts";
import type { DemoDevice, DemoLeague, DemoPerson, DeviceRef, WritingRef } from "./world.ts";

/** A club in the league: its devices there by `<club>/<device>`, and its members. */
interface Side {
  readonly head: ClubHead;
  readonly devices: ReadonlyMap<string, DemoDevice>;
  readonly officer: DeviceRef;
}

interface Folder {
  readonly reading: Reading;
  readonly slug: string;
  readonly scroll: Scroll;
  readonly sides: ReadonlyMap<string, Side>;
  readonly members: ReadonlyMap<string, ClubPerson & { readonly club: string }>;
  /** Who was written down in the league's book already. */
  readonly joined: Map<string, DemoPerson>;
}

export function readLeague(
  reading: Reading,
  slug: string,
  clubs: ReadonlyMap<string, ClubHead>,
): { readonly league: DemoLeague; readonly reports: readonly LeagueReport[] } | null {
  const path = `leagues/${slug}/league.json`;
  const file = readHeading(reading, path, LeagueFile);
  if (file === null) return null;
  const sides = readSides(reading, path, file, clubs);
  const members = new Map<string, ClubPerson & { readonly club: string }>();
  for (const [club, { head }] of sides) {
    for (const [key, person] of head.people) if (person.standing === "member") members.set(key, { ...person, club });
  }
  const own = devicesOf(slug, file);
  const folder: Folder = { reading, slug, scroll: createScroll(), sides, members, joined: new Map() };
  open(folder, file, own);
  const fixtures = readFixtures(folder, own);
  readStatements(folder);
  const reports = readReports(folder, fixtures);
  const league: DemoLeague = {
    slug,
    name: file.name,
    rules: file.rules,
    devices: [rootDevice(slug, file.name), ...own.values()],
    people: [...folder.joined.values()],
    clubs: [...sides].map(([club, { devices }]) => ({ slug: club, devices: [...devices.values()].map((d) => d.ref) })),
    writings: folder.scroll.unroll(file.writes_at),
  };
  return { league, reports };
}

function readSides(
  { faults }: Reading,
  path: string,
  file: LeagueFile,
  clubs: ReadonlyMap<string, ClubHead>,
): ReadonlyMap<string, Side> {
  const sides = new Map<string, Side>();
  for (const [place, { club, devices: keys }] of file.clubs.entries()) {
    const head = clubs.get(club);
    const devices = keys.flatMap((key) => head?.devices.get(key) ?? []);
    const officer = devices.find(({ role }) => role === "handicapper");
    if (head === undefined || officer === undefined || devices.length !== keys.length) {
      faults.push({ type: "demo-json", file: path, member: `clubs.${place}` });
      continue;
    }
    sides.set(club, { head, devices: new Map(devices.map((d) => [d.ref, d])), officer: officer.ref });
  }
  return sides;
}

function open({ slug, scroll, sides }: Folder, file: LeagueFile, own: ReadonlyMap<string, DemoDevice>): void {
  const root = rootOf(slug);
  const admit = (by: DeviceRef, { ref, role }: DemoDevice): void => {
    if (role === "root") return;
    scroll.write("opening", file.opened, by, `opening/${ref}`, {
      how: "draft",
      draft: ({ key }) => ({ kind: "device-admitted", body: { device: key(ref), role } }),
    });
  };
  scroll.write("opening", file.opened, root, "opening/book", {
    how: "draft",
    draft: ({ key }) => ({ kind: "book-opened", body: { root: key(root), as: "league", name: file.name } }),
  });
  for (const device of own.values()) admit(root, device);
  for (const adoption of file.rules) {
    const ref: WritingRef = `opening/rules-${adoption.from}`;
    scroll.write("opening", file.opened, root, ref, says({ kind: "rules-adopted", body: adoption }));
  }
  for (const set of file.league_rules ?? []) {
    const ref: WritingRef = `opening/league-rules-${set.from}`;
    scroll.write("opening", file.opened, root, ref, says({ kind: "league-rules-set", body: set }));
  }
  for (const [club, { head, devices }] of sides) {
    scroll.write("opening", file.opened, root, `opening/${club}`, {
      how: "draft",
      draft: ({ key }) => ({ kind: "club-admitted", body: { club: key(rootOf(club)), name: head.file.name } }),
    });
    for (const device of devices.values()) admit(rootOf(club), device);
  }
}

interface Fixture {
  readonly fixture: FixtureId;
  readonly slots: readonly Slot[];
}

function readFixtures(folder: Folder, own: ReadonlyMap<string, DemoDevice>): ReadonlyMap<string, Fixture> {
  const { reading, slug, scroll, sides } = folder;
  const fixtures = new Map<string, Fixture>();
  const columns = ["key", "date", "home", "away", "slots", "device", "entered_on"];
  for (const line of readTable(reading, `leagues/${slug}/fixtures.csv`, columns)) {
    const key = line.read("key", forms.key);
    if (!isFirst(line, "key", "fixture", fixtures)) continue;
    const date = line.read("date", forms.day);
    const home = line.find("home", "club", sides);
    const away = line.find("away", "club", sides);
    const slots = line.read("slots", forms.slots);
    const day = line.read("entered_on", forms.day);
    const device = readWriter(line, own, "fixture-set", "league");
    const fixture = demoFixture(key);
    fixtures.set(key, { fixture, slots });
    if (home === undefined || away === undefined || device === undefined) continue;
    const club = (publicKey: (ref: DeviceRef) => PublicKey, { head }: Side) => keyIdOf(publicKey(rootOf(head.slug)));
    scroll.write("people", day, device.ref, `fixtures/${key}`, {
      how: "draft",
      draft: (known) => ({
        kind: "fixture-set",
        body: { fixture, date, home: club(known.key, home), away: club(known.key, away), slots: [...slots] },
      }),
    });
  }
  return fixtures;
}

/** Devices of all clubs in the league, by `<club>/<device>`. */
const writersIn = ({ sides }: Folder): ReadonlyMap<string, DemoDevice> =>
  new Map([...sides.values()].flatMap(({ devices }) => [...devices]));

function readStatements(folder: Folder): void {
  const { reading, slug, scroll, members } = folder;
  const columns = ["player", "handicap", "index", "on", "device"];
  for (const line of readTable(reading, `leagues/${slug}/statements.csv`, columns)) {
    const person = line.find("player", "player", members);
    const on = line.read("on", forms.day);
    const handicap = line.read("handicap", forms.handicap);
    const index = line.read("index", forms.index);
    const device = readWriter(line, writersIn(folder), "handicap-stated", "league");
    if (person === undefined || device === undefined) continue;
    join(folder, person.key, on);
    const body = { player: person.player, handicap, index, on };
    const ref: WritingRef = `statements/${person.key}-${on}`;
    scroll.write("people", on, device.ref, ref, says({ kind: "handicap-stated", body }));
  }
}

function readReports(folder: Folder, fixtures: ReadonlyMap<string, Fixture>): LeagueReport[] {
  const { reading, slug, scroll, members } = folder;
  const reports = new Map<string, LeagueReport>();
  const columns = [...MATCH_COLUMNS, "fixture", "slot"];
  for (const line of readTable(reading, `leagues/${slug}/reports.csv`, columns)) {
    const faultsBefore = reading.faults.length;
    const id = line.read("id", forms.key);
    if (!isFirst(line, "id", "line", reports)) continue;
    const told = readTold(line, members);
    const slot = readSlot(line, fixtures);
    const replaces = line.raw("replaces");
    const earlier = replaces === "" ? undefined : line.find("replaces", "line", reports);
    const day = readDayAfter(line, "entered_on", earlier?.day ?? told.date);
    const device = readWriter(line, writersIn(folder), "match-reported", "league");
    const players = told.sides.flat().map(({ player }) => player);
    reports.set(id, { league: slug, ref: `reports/${id}`, day, players });
    if (slot === undefined || device === undefined) continue;
    const body: MatchReported = { ...told, occasion: "league", slot, n: 1 };
    if (reading.faults.length === faultsBefore) checkTold(line, body);
    for (const column of ["side_a", "side_b"]) {
      for (const { key } of forms.side.parse(line.raw(column)) ?? []) join(folder, key, day);
    }
    scroll.write("games", day, device.ref, `reports/${id}`, reported(body, replaces, "reports"));
  }
  return [...reports.values()];
}

function readSlot(line: Line, fixtures: ReadonlyMap<string, Fixture>): MatchReported["slot"] {
  const fixture = line.find("fixture", "fixture", fixtures);
  const number = line.read("slot", forms.number);
  if (fixture === undefined) return undefined;
  if (number > fixture.slots.length) {
    line.blame({ type: "demo-unknown", ...line.place("slot"), what: "slot", key: line.raw("slot") });
  }
  return { fixture: fixture.fixture, number };
}

/** Writes a player down in the league's book the first time he is named there. */
function join({ scroll, sides, members, joined }: Folder, key: string, day: string): void {
  const person = members.get(key);
  const side = person === undefined ? undefined : sides.get(person.club);
  if (person === undefined || side === undefined || joined.has(key)) return;
  const { player, name, short, junior, club } = person;
  joined.set(key, { key, player, name, short, junior, standing: "visitor", home: { slug: club } });
  scroll.write("people", day, side.officer, `members/${key}`, {
    how: "draft",
    draft: ({ book }) => ({ kind: "player-joined", body: { player, standing: "visitor", home: { book: book(club) } } }),
  });
}
