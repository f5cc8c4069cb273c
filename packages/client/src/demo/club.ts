/** A club's folder as the writings of its book: opened, people written down, games, decisions, carried matches, signatures. */
import type { Day, Draft, MatchReported, Occasion, PlayerId } from "@sward/core";
import type { ClubHead, ClubPerson } from "./club-people.ts";
import { demoEvent } from "./demo-ids.ts";
import * as forms from "./forms.ts";
import { rootDevice, rootOf } from "./heading.ts";
import { checkTold, MATCH_COLUMNS, readDayAfter, readTold, readWriter } from "./match-line.ts";
import type { Scroll } from "./scroll.ts";
import { createScroll } from "./scroll.ts";
import type { Reading } from "./table.ts";
import { isFirst, readTable } from "./table.ts";
import type { DemoBook, Says, WritingRef } from "./world.ts";

/** A report in a league's book, as a club needs it: whom it concerns, and when it came. */
export interface LeagueReport {
  readonly league: string;
  readonly ref: WritingRef;
  readonly day: Day;
  readonly players: readonly PlayerId[];
}

interface Folder {
  readonly reading: Reading;
  readonly head: ClubHead;
  readonly scroll: Scroll;
}

export function readClub(reading: Reading, head: ClubHead, reports: readonly LeagueReport[]): DemoBook {
  const { slug, file, devices, people } = head;
  const scroll = createScroll();
  const folder: Folder = { reading, head, scroll };
  open(folder);
  for (const person of people.values()) join(folder, person);
  readGames(folder, readEvents(folder));
  readHandicaps(folder);
  carry(folder, reports);
  readSignatures(folder);
  return {
    slug,
    name: file.name,
    rules: file.rules,
    devices: [rootDevice(slug, file.name), ...devices.values()],
    people: [...people.values()].map(({ start: _, handicap: _h, index: _i, ...person }) => person),
    writings: scroll.unroll(file.writes_at),
  };
}

export const says = (draft: Draft): Says => ({ how: "draft", draft: () => draft });

function open({ head: { slug, file, devices }, scroll }: Folder): void {
  const root = rootOf(slug);
  scroll.write("opening", file.opened, root, "opening/book", {
    how: "draft",
    draft: ({ key }) => ({ kind: "book-opened", body: { root: key(root), as: "club", name: file.name } }),
  });
  for (const { ref, role } of devices.values()) {
    if (role === "root") continue;
    scroll.write("opening", file.opened, root, `opening/${ref}`, {
      how: "draft",
      draft: ({ key }) => ({ kind: "device-admitted", body: { device: key(ref), role } }),
    });
  }
  for (const adoption of file.rules) {
    const ref: WritingRef = `opening/rules-${adoption.from}`;
    scroll.write("opening", file.opened, root, ref, says({ kind: "rules-adopted", body: adoption }));
  }
}

function join({ head, scroll }: Folder, { key, player, standing, home, start, handicap, index }: ClubPerson): void {
  scroll.write("people", start, head.officer, `members/${key}`, {
    how: "draft",
    draft: ({ book }) => ({
      kind: "player-joined",
      body: {
        player,
        standing,
        ...(home === null ? {} : { home: "slug" in home ? { book: book(home.slug) } : { club: home.name } }),
      },
    }),
  });
  if (handicap === undefined) return;
  const reason = standing === "member" ? "starting handicap" : "what the visitor's own club says";
  const body = { player, handicap, ...(index === undefined ? {} : { index }), from: start, reason } as const;
  const ref: WritingRef = `members/${key}/handicap`;
  scroll.write("people", start, head.officer, ref, says({ kind: "handicap-set", body: { ...body, basis: "initial" } }));
}

function readEvents({ reading, head, scroll }: Folder): ReadonlyMap<string, Occasion> {
  const events = new Map<string, Occasion>();
  const file = `clubs/${head.slug}/events.csv`;
  for (const line of readTable(reading, file, [
    "key",
    "title",
    "occasion",
    "first_day",
    "last_day",
    "device",
    "entered_on",
  ])) {
    const key = line.read("key", forms.key);
    if (!isFirst(line, "key", "event", events)) continue;
    const occasion = line.read("occasion", forms.occasion);
    events.set(key, occasion);
    const from = line.read("first_day", forms.day);
    const to = readDayAfter(line, "last_day", from);
    const title = line.read("title", forms.text);
    const device = readWriter(line, head.devices, "event-opened", "club");
    if (device === undefined) continue;
    const body = { event: demoEvent(key), title, occasion, from, to };
    const day = line.read("entered_on", forms.day);
    scroll.write("people", day, device.ref, `events/${key}`, says({ kind: "event-opened", body }));
  }
  return events;
}

const GAME_COLUMNS = [...MATCH_COLUMNS, "event", "occasion", "n", "excluded"];

function readGames({ reading, head, scroll }: Folder, events: ReadonlyMap<string, Occasion>): void {
  const enteredOn = new Map<string, Day>();
  for (const line of readTable(reading, `clubs/${head.slug}/games.csv`, GAME_COLUMNS)) {
    const faultsBefore = reading.faults.length;
    const id = line.read("id", forms.key);
    if (!isFirst(line, "id", "line", enteredOn)) continue;
    const told = readTold(line, head.people);
    const event = line.raw("event");
    if (event !== "") line.find("event", "event", events);
    const body: MatchReported = {
      ...told,
      occasion: line.read("occasion", forms.occasion),
      ...(event === "" ? {} : { event: demoEvent(event) }),
      n: line.read("n", forms.number),
      ...(line.read("excluded", forms.yes) ? { excluded: true } : {}),
    };
    const replaces = line.raw("replaces");
    const than = replaces === "" ? undefined : line.find("replaces", "line", enteredOn);
    const day = readDayAfter(line, "entered_on", than ?? told.date);
    enteredOn.set(id, day);
    const device = readWriter(line, head.devices, "match-reported", "club");
    if (reading.faults.length === faultsBefore) checkTold(line, body);
    if (device !== undefined) scroll.write("games", day, device.ref, `games/${id}`, reported(body, replaces));
  }
}

/** A report, which may correct an earlier line of the same file. */
export const reported = (body: MatchReported, replaces: string, file = "games"): Says => ({
  how: "draft",
  draft: ({ entry }) => ({
    kind: "match-reported",
    body: replaces === "" ? body : { ...body, replaces: entry(`${file}/${replaces}`) },
  }),
});

function readHandicaps({ reading, head, scroll }: Folder): void {
  const file = `clubs/${head.slug}/handicaps.csv`;
  for (const line of readTable(reading, file, [
    "player",
    "in_force_from",
    "handicap",
    "reason",
    "device",
    "entered_on",
  ])) {
    const person = line.find("player", "player", head.people);
    const from = line.read("in_force_from", forms.day);
    const handicap = line.read("handicap", forms.handicap);
    const reason = line.read("reason", forms.text);
    const day = line.read("entered_on", forms.day);
    const device = readWriter(line, head.devices, "handicap-set", "club");
    if (person === undefined || device === undefined) continue;
    const body = { player: person.player, handicap, from, basis: "discretionary", reason } as const;
    const ref: WritingRef = `handicaps/${person.key}-${from}`;
    scroll.write("people", day, device.ref, ref, says({ kind: "handicap-set", body }));
  }
}

function carry({ head, scroll }: Folder, reports: readonly LeagueReport[]): void {
  const own = new Set([...head.people.values()].filter(({ standing }) => standing === "member").map((p) => p.player));
  for (const { league, ref, day, players } of reports) {
    if (!players.some((player) => own.has(player))) continue;
    const carried: WritingRef = `carried/${league}/${ref}`;
    scroll.write("carrying", day, head.officer, carried, { how: "carry", league, carries: ref });
  }
}

function readSignatures({ reading, head, scroll }: Folder): void {
  const file = `clubs/${head.slug}/signatures.csv`;
  for (const line of readTable(reading, file, ["player", "upto", "device", "signed_on"])) {
    const person = line.find("player", "player", head.people);
    const upto = line.read("upto", forms.day);
    const day = readDayAfter(line, "signed_on", upto);
    const device = readWriter(line, head.devices, "card-signed", "club");
    if (person === undefined || device === undefined) continue;
    const ref: WritingRef = `signatures/${person.key}-${upto}`;
    scroll.write("signing", day, device.ref, ref, { how: "signature", player: person.player, upto });
  }
}
