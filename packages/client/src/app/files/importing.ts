/**
 * An import on its way: the table, what was chosen for it, and what it comes to, worked out anew in slices after each change. Kept for
 * as long as the page is open, so that a look at a card in between loses nothing. Nothing of it is in the record before `saving.ts`
 * hands the whole to the book.
 */
import { batch, signal } from "@preact/signals";
import type { Day, EventId, PlayerId } from "@sward/core";
import { knownPeople, shortened } from "../entry/people.ts";
import { adviseOff } from "../entry/played-off.ts";
import type { ReadableDesk } from "../entry/reading.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import type { DateOrder, OrderEvidence } from "./days.ts";
import { orderEvidence, orderOf } from "./days.ts";
import type { Joiner } from "./drafts.ts";
import type { FieldName } from "./fields.ts";
import type { Judgement, Standing } from "./judging.ts";
import { judgeLines } from "./judging.ts";
import type { Defaults, LineReading, LineSetup } from "./lines.ts";
import { cellReader, readLine } from "./lines.ts";
import type { Columns } from "./matching.ts";
import { fileKind, guessColumns } from "./matching.ts";
import { createNameBook } from "./people.ts";
import type { EventChoices, EventQuestion, NameChoices, NameQuestion } from "./questions.ts";
import { createEvents, createNameQuestions, createWho } from "./questions.ts";
import type { Table, TableFault } from "./reading.ts";
import { readTable } from "./reading.ts";
import { indexRecord } from "./recorded.ts";
import type { SmallStore } from "./remembered.ts";
import { recallChoices } from "./remembered.ts";
import { inSlices } from "./slices.ts";

export interface ImportDeps {
  readonly desk: ReadableDesk & { today(): Day };
  readonly store: SmallStore;
  readonly randomId: () => string;
  readonly pause: () => Promise<void>;
  /** The name of a player nobody has named. */
  readonly unnamed: (player: PlayerId) => string;
}

export interface Choices {
  readonly columns: Columns;
  readonly order: DateOrder | null;
  readonly defaults: Defaults;
  readonly names: NameChoices;
  readonly events: EventChoices;
  readonly edits: ReadonlyMap<number, ReadonlyMap<FieldName, string>>;
  readonly leftOut: ReadonlySet<number>;
  readonly further: ReadonlySet<number>;
}

/** What a file comes to under the choices. */
export interface Outcome extends Judgement {
  readonly counts: Readonly<Record<Standing, number>>;
  readonly names: readonly NameQuestion[];
  readonly events: readonly EventQuestion[];
  readonly evidence: OrderEvidence;
  /** Everybody a line may name, those who join with the import too. */
  readonly people: ReadonlyMap<PlayerId, Joiner>;
  /** Titles of the events that open with it. */
  readonly titles: ReadonlyMap<EventId, string>;
}

export interface Taken {
  /** The file's name, empty for what was pasted. */
  readonly name: string;
  readonly text: string;
  readonly table: Table;
}

export type Importing = ReturnType<typeof createImporting>;

export function createImporting(deps: ImportDeps) {
  const { desk, store, pause } = deps;
  const taken = signal<Taken | null>(null);
  const fault = signal<TableFault | null>(null);
  const choices = signal<Choices>(noChoices(desk.today()));
  const outcome = signal<Outcome | null>(null);
  const progress = signal<{ readonly done: number; readonly total: number } | null>(null);
  let latest = 0;

  function take(name: string, text: string, heading: "detect" | "yes" | "no" = "detect"): Promise<boolean> {
    const read = readTable(text, heading);
    batch(() => {
      fault.value = read.ok ? null : read.fault;
      outcome.value = null;
      if (!read.ok) return;
      const table = read.value;
      const kept = recallChoices(store, desk.club.device, fileKind(table));
      const plain = noChoices(desk.today());
      taken.value = { name, text, table };
      choices.value =
        kept === null
          ? { ...plain, columns: guessColumns(table, isSomebody()) }
          : { ...plain, ...kept, defaults: { ...plain.defaults, ...kept.defaults } };
    });
    return read.ok ? rework() : Promise.resolve(false);
  }

  function change(part: Partial<Choices>): Promise<boolean> {
    choices.value = { ...choices.value, ...part };
    return rework();
  }

  function clear(): void {
    latest += 1;
    batch(() => {
      taken.value = null;
      fault.value = null;
      outcome.value = null;
      progress.value = null;
      choices.value = noChoices(desk.today());
    });
  }

  /** What is under way is given up; what was worked out before stays. */
  function stop(): void {
    latest += 1;
    progress.value = null;
  }

  const namedPeople = (): readonly Joiner[] => {
    const known = knownPeople(desk);
    const ids = new Set(known.map(({ player }) => player));
    const strangers = [...desk.club.state().players.values()].filter(({ player }) => !ids.has(player));
    return [
      ...known,
      ...strangers.map(({ player, standing, home }): Joiner => {
        const name = deps.unnamed(player);
        return { player, name, short: name, standing, home };
      }),
    ];
  };

  const isSomebody = (): ((text: string) => boolean) => {
    const book = createNameBook(namedPeople());
    return (text) => book.has(text);
  };

  /** False when newer work overtook it. */
  async function rework(): Promise<boolean> {
    const now = taken.value;
    if (now === null) return false;
    latest += 1;
    const own = latest;
    const { rows } = now.table;
    const parts = 3;
    let part = 0;
    const slicing = {
      pause,
      stopped: () => own !== latest,
      told: (done: number) => {
        progress.value = { done: part * rows.length + done, total: parts * rows.length };
      },
    };
    const chosen = choices.value;
    const state = desk.club.state();
    const known = namedPeople();
    const book = createNameBook(known);
    const columns = new Map(chosen.columns.flatMap((field, at) => (field === null ? [] : [[field, at] as const])));
    const cells = { columns, edits: chosen.edits };
    const who = createWho(book, chosen.names);
    const events = createEvents(state, chosen.events);

    const dates: { line: number; text: string }[] = [];
    const gatherDate = (row: (typeof rows)[number]): void => {
      dates.push({ line: row.line, text: cellReader(row, cells)("date") });
    };
    if (!(await inSlices(rows, gatherDate, slicing))) return false;
    const evidence = orderEvidence(dates);

    part = 1;
    const asked = createNameQuestions(book, chosen.names, { ...cells, who });
    if (!(await inSlices(rows, asked.add, slicing))) return false;

    part = 2;
    const setup: LineSetup = {
      ...cells,
      who,
      order: chosen.order ?? orderOf(evidence),
      defaults: chosen.defaults,
      today: desk.today(),
      rulesOn: rememberedBy((day: Day) => rulesOnDay(state, day)),
      advise: createAdvice(desk),
      eventOf: events.of,
    };
    const readings: LineReading[] = [];
    const read = (row: (typeof rows)[number]): void => {
      readings.push(readLine(row, setup));
    };
    if (!(await inSlices(rows, read, slicing))) return false;

    const judgement = judgeLines(readings, indexRecord(state), chosen);
    const names = asked.all();
    batch(() => {
      progress.value = null;
      outcome.value = {
        ...judgement,
        counts: countStandings(judgement),
        names,
        events: events.questions(),
        evidence,
        people: withJoiners(known, names),
        titles: openedTitles(events.questions()),
      };
    });
    return true;
  }

  return { taken, fault, choices, outcome, progress, take, change, clear, stop, rework, device: desk.club.device };
}

const noChoices = (today: Day): Choices => ({
  columns: [],
  order: null,
  defaults: { date: today, play: "handicap", format: 13, occasion: null },
  names: new Map(),
  events: new Map(),
  edits: new Map(),
  leftOut: new Set(),
  further: new Set(),
});

/** Of a player and a day once: most lines of a file repeat both. */
function createAdvice(desk: ReadableDesk): LineSetup["advise"] {
  const known = new Map<string, number | null>();
  return (player, day) => {
    const key = `${player}|${day}`;
    const held = known.get(key);
    if (held !== undefined) return held;
    const advice = adviseOff(desk, player, day);
    const off = advice.from === "nobody" ? null : advice.off;
    known.set(key, off);
    return off;
  };
}

function rememberedBy<T>(find: (key: string) => T): (key: string) => T {
  const known = new Map<string, T>();
  return (key) => {
    if (!known.has(key)) known.set(key, find(key));
    return known.get(key) as T;
  };
}

function countStandings({ lines }: Judgement): Outcome["counts"] {
  const counts = { new: 0, recorded: 0, differs: 0, faulty: 0, "left-out": 0 };
  for (const { standing } of lines) counts[standing] += 1;
  return counts;
}

function withJoiners(known: readonly Joiner[], names: readonly NameQuestion[]): Outcome["people"] {
  const people = new Map(known.map((person) => [person.player, person]));
  for (const { text, choice } of names) {
    if (choice?.type !== "visitor") continue;
    const { player } = choice;
    people.set(player, { player, name: text, short: shortened(text), standing: "new", home: null });
  }
  return people;
}

const openedTitles = (events: readonly EventQuestion[]): Outcome["titles"] =>
  new Map(events.flatMap(({ choice, title }) => (choice?.type === "open" ? [[choice.event, title] as const] : [])));

/** Every line is good, in the record already, or left out on purpose, and there is something to save. */
export const isReady = ({ counts, matches }: Outcome): boolean =>
  counts.faulty === 0 && counts.differs === 0 && matches.length > 0;
