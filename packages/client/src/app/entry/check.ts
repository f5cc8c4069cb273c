/**
 * From a form to what will be saved, or to everything that is wrong with it at once, each with its field. What a score can be is
 * core's own answer, game by game, so the screen refuses exactly what the record would; the saving itself checks once more.
 *
 * The form edge: text becomes numbers here and nowhere else.
 */
import type { BookState, Draft, Game, Lineup, MatchReported, PlayerId, Result, RuleSet } from "@sward/core";
import { checkMatch, Day, fail, ok, StartTime, triggerOf } from "@sward/core";
import { extrasOf } from "./extras.ts";
import type { Field, FormFault } from "./faults.ts";
import type { EntryForm, GameForm, Seat } from "./form.ts";
import { seatsOf, sideOf } from "./form.ts";
import type { Person } from "./people.ts";
import { nextNumber, sameDayMatches } from "./same-match.ts";

export interface CheckContext {
  readonly state: BookState;
  /** The reader's calendar day. */
  readonly today: Day;
  readonly people: ReadonlyMap<PlayerId, Pick<Person, "player" | "name" | "short" | "standing" | "home">>;
  /** The rule set in force on the day; undefined when this version has none for it, and no table is looked at. */
  readonly rules: RuleSet | undefined;
}

/** A form that can be saved. */
export interface Checked {
  /** Visitors who join with the match, then the match: saved together or not at all. */
  readonly drafts: readonly Draft[];
  readonly body: MatchReported;
  /** Names for the roster, of those who join. */
  readonly joining: readonly Pick<Person, "player" | "name" | "short">[];
}

export function checkForm(form: EntryForm, context: CheckContext): Result<Checked, readonly FormFault[]> {
  const faults: FormFault[] = [...dayFaults(form, context), ...occasionFaults(form, context)];
  const [seatFaults, sides] = readSeats(form, context);
  const [gameFaults, games] = readGames(form);
  faults.push(...seatFaults, ...gameFaults);
  if (faults.length > 0 || sides === null || games === null || form.occasion === null) return fail(faults);

  const plain: MatchReported = {
    date: form.date,
    ...(form.start === "" ? {} : { start: form.start }),
    occasion: form.occasion,
    ...(form.event === null ? {} : { event: form.event }),
    n: 1,
    play: form.play,
    format: form.format,
    sides,
    games,
    ...givenIn(form, context.rules),
    ...(form.excluded ? { excluded: true as const } : {}),
    ...(form.replaces === null ? {} : { replaces: form.replaces }),
  };
  const body = numbered(form, plain, context.state);
  if (body === null) return fail([{ field: "same", type: "same-match-unanswered" }]);
  const joining = sides
    .flat()
    .flatMap(({ player }) => context.people.get(player) ?? [])
    .filter(({ standing }) => standing === "league" || standing === "new");
  const visitors = joining.map(
    ({ player, home }): Draft => ({
      kind: "player-joined",
      body: { player, standing: "visitor", ...(home === null ? {} : { home: homeOf(home) }) },
    }),
  );
  return ok({ drafts: [...visitors, { kind: "match-reported", body }], body, joining });
}

/** A whole number as people type one: 7, -2, and also the minus sign and the dash. Null when it is none. */
export function readWhole(text: string): number | null {
  const plain = text.trim().replace(/^[−–]/, "-");
  return /^-?\d{1,3}$/.test(plain) ? Number(plain) : null;
}

/** The handicaps of both sides, own first, as far as every seat has one the rule set knows; for extra strokes while typing. */
export function readOffs(form: EntryForm, rules: RuleSet | undefined): readonly (readonly number[])[] | null {
  const sides: [number[], number[]] = [[], []];
  for (const seat of seatsOf(form)) {
    const off = readWhole(form.seats[seat].off);
    if (off === null || (rules !== undefined && triggerOf(rules, off) === undefined)) return null;
    sides[sideOf(seat)].push(off);
  }
  return sides;
}

function dayFaults(form: EntryForm, { today }: CheckContext): FormFault[] {
  const faults: FormFault[] = [];
  const { date, start } = form;
  if (date === "") faults.push({ field: "date", type: "no-date" });
  else if (!Day().safeParse(date).success) faults.push({ field: "date", type: "not-a-date", text: date });
  else if (date > today) faults.push({ field: "date", type: "future-date", date, today });
  if (start !== "" && !StartTime().safeParse(start).success) {
    faults.push({ field: "start", type: "not-a-time", text: start });
  }
  return faults;
}

function occasionFaults({ occasion, event, date }: EntryForm, { state }: CheckContext): FormFault[] {
  const opened = event === null ? undefined : state.events.get(event);
  if (opened !== undefined && (date < opened.from || date > opened.to)) {
    return [{ field: "event", type: "event-not-on-day", title: opened.title, from: opened.from, to: opened.to }];
  }
  return occasion === null ? [{ field: "occasion", type: "no-occasion" }] : [];
}

/** The extra strokes as they were given, the pair's own choice where it had one: the card of a coach wants to know. */
function givenIn(form: EntryForm, rules: RuleSet | undefined): Pick<MatchReported, "given"> {
  const extras = extrasOf(rules, form, readOffs(form, rules));
  const way = extras.type === "ways" ? (extras.ways[form.choice] ?? extras.ways[0]) : undefined;
  const [one, two] = way ?? [];
  return one === undefined || two === undefined ? {} : { given: [[...one], [...two]] };
}

type Sides = MatchReported["sides"];

function readSeats(form: EntryForm, { people, rules }: CheckContext): [FormFault[], Sides | null] {
  const faults: FormFault[] = [];
  const sides: [Lineup[], Lineup[]] = [[], []];
  const seen = new Set<PlayerId>();
  for (const seat of seatsOf(form)) {
    const { player, text, off } = form.seats[seat];
    const field: Field = `player-${seat}`;
    if (player === null) {
      const typed = text.trim();
      faults.push(typed === "" ? { field, type: "no-player" } : { field, type: "nobody-by-that-name", text: typed });
      continue;
    }
    const name = people.get(player)?.name ?? text;
    if (seen.has(player)) faults.push({ field, type: "player-twice", name });
    seen.add(player);
    const handicap = readHandicap(seat, off, name, rules);
    if (typeof handicap === "number") sides[sideOf(seat)].push({ player, off: handicap });
    else faults.push(handicap);
  }
  return [faults, faults.length > 0 ? null : sides];
}

function readHandicap(seat: Seat, text: string, name: string, rules: RuleSet | undefined): number | FormFault {
  const field: Field = `off-${seat}`;
  if (text.trim() === "") return { field, type: "no-handicap", name };
  const handicap = readWhole(text);
  if (handicap === null) return { field, type: "not-a-handicap", text };
  if (rules !== undefined && triggerOf(rules, handicap) === undefined) {
    return { field, type: "handicap-not-in-table", handicap, rules: rules.title };
  }
  return handicap;
}

function readGames(form: EntryForm): [FormFault[], Game[] | null] {
  const faults: FormFault[] = [];
  const games: Game[] = [];
  for (const [at, game] of form.games.entries()) {
    const [own, ownFault] = readHoops(at, 0, game);
    const [other, otherFault] = readHoops(at, 1, game);
    faults.push(...ownFault, ...otherFault);
    if (own === null || other === null) continue;
    const score: [number, number] = [own, other];
    const read: Game = game.ending === "played-out" ? { score } : { score, ended: game.ending };
    if (!canBe(read, form)) {
      faults.push({ field: `score-${at}-0`, type: "score-cannot-be", score, format: form.format, ending: game.ending });
    }
    games.push(read);
  }
  return [faults, faults.length > 0 ? null : games];
}

function readHoops(at: number, side: 0 | 1, { score }: GameForm): [number | null, FormFault[]] {
  const text = score[side].trim();
  const field: Field = `score-${at}-${side}`;
  if (text === "") return [null, [{ field, type: "no-score" }]];
  const hoops = readWhole(text);
  return hoops === null || hoops < 0 || hoops > 19 ? [null, [{ field, type: "not-a-score", text }]] : [hoops, []];
}

/** Core's own answer for one game; who plays does not matter to it. */
const canBe = (game: Game, { format }: EntryForm): boolean =>
  checkMatch({ format, sides: [[], []], games: [game] }) === null;

/** The report with its number among the day's matches of these players; null while it has to be asked which one it is. */
function numbered(form: EntryForm, body: MatchReported, state: BookState): MatchReported | null {
  const others = sameDayMatches(state, body, form.replaces);
  if (form.replaces !== null || others.length === 0) return { ...body, n: nextNumber(state, body, form.replaces) };
  if (form.same === "further") return { ...body, n: nextNumber(state, body, null) };
  const same = others.find(({ alike }) => alike);
  if (form.same === "second-report" && same !== undefined) return { ...body, n: same.match.n };
  return null;
}

const homeOf = (home: NonNullable<Person["home"]>) =>
  home.book === undefined ? { club: home.club ?? "" } : { book: home.book };
