/**
 * What needs attention, as things to do rather than as questions: all that is asked about one card is one matter, since one look at
 * the card and one signature answer it. Made from the states of the books alone, so that every device of the club lists the same.
 * Pure. Rejected: one entry a question (a single late game asks three of them).
 */
import type {
  BookId,
  BookState,
  Card,
  CardLine,
  Day,
  EntryId,
  FixtureId,
  GameLine,
  KeyId,
  Match,
  PlayerId,
  Question,
  Signature,
} from "@sward/core";
import { linesOf, standsAt } from "@sward/core";
import type { SignPlan } from "../card/signing.ts";
import { planQuestions } from "../card/signing.ts";
import type { AskedBook } from "../permission.ts";
import { mayCorrectHere, mayHere } from "../permission.ts";
import type { IdleMatter } from "./idle.ts";
import type { FoundersMatter, NewcomerMatter } from "./newcomers.ts";
import type { PlayedOff } from "./played-off.ts";
import { playedOff } from "./played-off.ts";
import type { TroubleMatter } from "./troubles.ts";

export interface MatterBook extends AskedBook {
  readonly id: BookId;
  state(): BookState;
}

export interface MatterDesk {
  readonly club: MatterBook;
  readonly leagues: readonly MatterBook[];
}

export interface PlacedGame {
  readonly place: number;
  readonly line: GameLine;
}

export interface Touched {
  readonly signature: Signature;
  /** First line that is not what was signed; its place may be past the end when lines went. */
  readonly from: number;
  /** What the card says now up to the signed day. */
  readonly now: { readonly handicap: number; readonly index: number; readonly lines: number } | null;
}

export interface CardMatter {
  readonly about: "card";
  readonly player: PlayerId;
  readonly card: Card;
  readonly touched: readonly Touched[];
  readonly changes: readonly PlacedGame[];
  readonly playedOff: readonly (PlacedGame & { readonly different: PlayedOff })[];
  /** What one signature would cover. */
  readonly plan: SignPlan | null;
}

export interface DisputeMatter {
  readonly about: "disputed-match";
  readonly book: BookId;
  readonly match: Match;
  /** Reports that this device may correct. */
  readonly ours: readonly EntryId[];
  readonly mayRule: boolean;
}

export type Matter =
  | { readonly about: "unknown-rules"; readonly book: BookId; readonly rules: string }
  | { readonly about: "forked-device"; readonly book: BookId; readonly device: KeyId; readonly seq: number }
  | DisputeMatter
  | {
      readonly about: "rival-corrections";
      readonly book: BookId;
      readonly of: EntryId;
      /** The one that counts for now first. */
      readonly rivals: readonly EntryId[];
    }
  | CardMatter
  | { readonly about: "no-handicap"; readonly player: PlayerId }
  | NewcomerMatter
  | FoundersMatter
  | IdleMatter
  | TroubleMatter
  | WaitingMatter;

/** Matches of one fixture that the same side has told and the other not. */
export interface WaitingMatter {
  readonly about: "one-report";
  readonly book: BookId;
  readonly fixture: FixtureId | null;
  readonly date: Day;
  readonly clubs: readonly string[];
  readonly ours: boolean;
  readonly matches: readonly Match[];
}

export function mattersOf(desk: MatterDesk, today: Day): readonly Matter[] {
  const leagues = new Set(desk.leagues.map(({ id }) => id));
  const found: Matter[] = [];
  for (const book of [desk.club, ...desk.leagues]) {
    const state = book.state();
    const waiting: { match: Match; ours: boolean }[] = [];
    for (const question of state.questions) {
      const match = "match" in question ? state.matches.get(question.match) : undefined;
      if (match?.reports.some(({ origin }) => origin !== book.id && leagues.has(origin))) continue;
      if (question.about === "one-report" && match !== undefined) {
        waiting.push({ match, ours: match.reports.some(({ by }) => isOurs(book, by)) });
        continue;
      }
      const matter = matterOf(question, book, match);
      if (matter !== null) found.push(matter);
    }
    found.push(...byFixture(book.id, state, waiting));
  }
  const state = desk.club.state();
  const { cards, questions } = state;
  for (const [player, asked] of aboutCards(questions)) {
    const card = cards.get(player);
    if (card !== undefined) found.push(cardMatter(card, asked, today));
  }
  return found;
}

type CardQuestion = Extract<Question, { readonly line: number }>;

function aboutCards(questions: readonly Question[]): ReadonlyMap<PlayerId, readonly CardQuestion[]> {
  const byPlayer = new Map<PlayerId, CardQuestion[]>();
  for (const question of questions) {
    if (!("line" in question)) continue;
    const asked = byPlayer.get(question.player);
    if (asked === undefined) byPlayer.set(question.player, [question]);
    else asked.push(question);
  }
  return byPlayer;
}

/** Null for questions about cards, which are put together, and for what waits, which is put together by fixture. */
function matterOf(question: Question, book: MatterBook, match: Match | undefined): Matter | null {
  switch (question.about) {
    case "disputed-match": {
      if (match === undefined) return null;
      const carried = match.reports.some(({ origin }) => origin !== book.id);
      const ours = match.reports.filter(({ by, origin }) => origin === book.id && mayCorrectHere(book, by));
      return {
        about: "disputed-match",
        book: book.id,
        match,
        ours: ours.map(({ entry }) => entry),
        mayRule: !carried && mayHere(book, "ruling-made"),
      };
    }
    case "rival-corrections":
      return {
        about: "rival-corrections",
        book: book.id,
        of: question.of,
        rivals: [question.counts, ...question.others],
      };
    case "forked-device":
      return { about: "forked-device", book: book.id, device: question.device, seq: question.seq };
    case "unknown-rules":
      return { about: "unknown-rules", book: book.id, rules: question.rules };
    case "no-handicap":
      return { about: "no-handicap", player: question.player };
    case "one-report":
    case "unsigned-change":
    case "touched-signature":
    case "played-off":
      return null;
  }
}

function byFixture(
  book: BookId,
  state: BookState,
  waiting: readonly { readonly match: Match; readonly ours: boolean }[],
): readonly WaitingMatter[] {
  const groups = new Map<string, { first: Match; ours: boolean; matches: Match[] }>();
  for (const { match, ours } of waiting) {
    const key = `${match.slot?.fixture ?? match.key} ${ours}`;
    const group = groups.get(key) ?? { first: match, ours, matches: [] };
    group.matches.push(match);
    groups.set(key, group);
  }
  return [...groups.values()].map(({ first, ours, matches }): WaitingMatter => {
    const fixture = first.slot === null ? undefined : state.fixtures.get(first.slot.fixture);
    return {
      about: "one-report",
      book,
      fixture: first.slot?.fixture ?? null,
      date: fixture?.date ?? first.reports[0]?.facts.date ?? "",
      clubs: fixture === undefined ? [] : [fixture.home, fixture.away].map((club) => state.clubs.get(club)?.name ?? ""),
      ours,
      matches,
    };
  });
}

/** In a club's book everybody is ours; in a league's, our own club's devices are. */
function isOurs(book: MatterBook, author: KeyId): boolean {
  const { devices } = book.state();
  const club = devices.get(book.device)?.club ?? null;
  return author === book.device || devices.get(author)?.club === club;
}

interface KeptMatter {
  readonly questions: readonly CardQuestion[];
  readonly today: Day;
  readonly matter: CardMatter;
}

const keptMatters = new WeakMap<Card, KeptMatter>();

/** A card is never changed, nor is a question of it: what is to be done about each is put together once a day. */
function cardMatter(card: Card, questions: readonly CardQuestion[], today: Day): CardMatter {
  const kept = keptMatters.get(card);
  const isSame = kept?.today === today && kept.questions.length === questions.length;
  if (isSame && questions.every((question, at) => kept.questions[at] === question)) return kept.matter;
  const matter = makeMatter(card, questions, today);
  keptMatters.set(card, { questions, today, matter });
  return matter;
}

/** With every change its kind is asked, for the number of things to do; the rest is worked out for whoever reads it. */
function makeMatter(card: Card, questions: readonly CardQuestion[], today: Day): CardMatter {
  const touched: Touched[] = [];
  const changes: PlacedGame[] = [];
  const off: CardMatter["playedOff"][number][] = [];
  for (const question of questions) {
    const line = lineIn(card, question.line);
    const game = line?.line === "game" ? { place: question.line, line } : null;
    if (question.about === "unsigned-change" && game !== null) changes.push(game);
    if (question.about === "played-off" && game !== null) {
      const different = once(() => playedOff(game.line));
      off.push({
        ...game,
        get different() {
          return different();
        },
      });
    }
    if (question.about === "touched-signature") {
      const signature = card.signatures.find(({ entry }) => entry === question.signature);
      if (signature !== undefined)
        touched.push({ signature, from: question.line, now: standsAt(card, signature.upto) });
    }
  }
  const byPlace = (a: PlacedGame, b: PlacedGame): number => a.place - b.place;
  const asked = questions.map(({ line }) => line);
  const plan = once(() => planQuestions(card, asked, today));
  return {
    about: "card",
    player: card.player,
    card,
    touched,
    changes: changes.sort(byPlace),
    playedOff: off.sort(byPlace),
    get plan() {
      return plan();
    },
  };
}

/** Of hundreds of lines a few are asked about. Undefined past the end, where a touched one may be. */
export function lineIn(card: Card, place: number): CardLine | undefined {
  const lines = linesOf(card);
  return place < lines.count ? lines.lineAt(place) : undefined;
}

function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}
