/**
 * A season's fixtures as they are being made: the clubs in the order drawn, a day for each round, and what comes of them before
 * anything is signed. Who meets whom is core's (the Berger tables); the days are people's, begun from a first day and a step.
 */
import type { Bodies, Day, FixtureFault, FixtureId, FixturePlan, KeyId, LeagueRules, Result } from "@sward/core";
import { byCodeUnits, planFixtures, roundRobin } from "@sward/core";

export interface FixturesForm {
  /** In the order drawn. */
  readonly clubs: readonly { readonly club: KeyId; readonly plays: boolean }[];
  readonly first: Day | "";
  /** Days from one round to the next. */
  readonly step: string;
  /** Days changed by hand, by round from 0. */
  readonly changed: ReadonlyMap<number, Day>;
}

export const newFixturesForm = (
  clubs: readonly { readonly club: KeyId; readonly name: string }[],
  first: Day,
): FixturesForm => ({
  clubs: [...clubs]
    .sort((a, b) => byCodeUnits(a.name, b.name) || byCodeUnits(a.club, b.club))
    .map(({ club }) => ({ club, plays: true })),
  first,
  step: "7",
  changed: new Map(),
});

export const drawn = ({ clubs }: Pick<FixturesForm, "clubs">): readonly KeyId[] =>
  clubs.filter(({ plays }) => plays).map(({ club }) => club);

/** The club at `at` one place up (-1) or down (1). */
export function moved(clubs: FixturesForm["clubs"], at: number, by: -1 | 1): FixturesForm["clubs"] {
  const [one, other] = [clubs[at], clubs[at + by]];
  if (one === undefined || other === undefined) return clubs;
  return clubs.map((club, place) => (place === at ? other : place === at + by ? one : club));
}

const DAY = 86_400_000;

const plus = (day: Day, days: number): Day =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * DAY).toISOString().slice(0, 10);

const stepOf = ({ step }: FixturesForm): number | null => (/^\d{1,3}$/.test(step.trim()) ? Number(step) : null);

/** A day for each round; empty for one that has none yet. */
export function roundDays(form: FixturesForm, meetings: LeagueRules["meetings"]): readonly (Day | "")[] {
  const step = stepOf(form);
  const { first, changed } = form;
  return roundRobin(drawn(form), meetings).map(
    (_, at) => changed.get(at) ?? (first === "" || step === null ? "" : plus(first, at * step)),
  );
}

export interface RoundView {
  readonly day: Day | "";
  readonly meetings: readonly { readonly home: KeyId; readonly away: KeyId }[];
  readonly bye: KeyId | null;
}

export function previewRounds(form: FixturesForm, meetings: LeagueRules["meetings"]): readonly RoundView[] {
  const days = roundDays(form, meetings);
  return roundRobin(drawn(form), meetings).map((round, at) => ({ ...round, day: days[at] ?? "" }));
}

export type PlanFault = FixtureFault | { readonly type: "days-missing" } | { readonly type: "days-backwards" };

/** What is to be signed; refused where a round has no day, or one before the round it follows. */
export function planOf(form: FixturesForm, rules: LeagueRules, newId: () => FixtureId): Result<FixturePlan, PlanFault> {
  const days = roundDays(form, rules.meetings);
  if (days.some((day) => day === "")) return { ok: false, fault: { type: "days-missing" } };
  if (days.some((day, at) => day < (days[at - 1] ?? day))) return { ok: false, fault: { type: "days-backwards" } };
  return planFixtures(rules, drawn(form), days, newId);
}

/** What is filled in to say what became of a fixture. */
export interface MarkForm {
  readonly as: Bodies["fixture-marked"]["as"] | "";
  readonly by: KeyId | "";
  readonly to: Day | "";
  readonly reason: string;
}

export const emptyMark: MarkForm = { as: "", by: "", to: "", reason: "" };

export interface MarkFaults {
  readonly as: boolean;
  readonly by: boolean;
  readonly reason: boolean;
}

/** Null when it can be signed. */
export function markFaults({ as, by, reason }: MarkForm): MarkFaults | null {
  const faults = { as: as === "", by: as === "conceded" && by === "", reason: reason.trim() === "" };
  return faults.as || faults.by || faults.reason ? faults : null;
}

export function markBody(fixture: FixtureId, { as, by, to, reason }: MarkForm): Bodies["fixture-marked"] {
  if (as === "") throw new Error("nothing is said of the fixture");
  return {
    fixture,
    as,
    ...(as === "conceded" && by !== "" ? { by } : {}),
    ...(as === "postponed" && to !== "" ? { to } : {}),
    reason: reason.trim(),
  };
}

/** Who has no fixture on a day on which every other club plays; null when that is nobody, or several. */
export function byeOn(
  day: Day,
  fixtures: readonly { readonly day: Day; readonly home: KeyId; readonly away: KeyId }[],
  clubs: Iterable<KeyId>,
): KeyId | null {
  const playing = new Set(fixtures.filter((one) => one.day === day).flatMap(({ home, away }) => [home, away]));
  const resting = [...clubs].filter((club) => !playing.has(club));
  return playing.size > 0 && resting.length === 1 ? (resting[0] ?? null) : null;
}
