/** The form for somebody new: what it holds, what is wrong with it, and what it would write. */
import type { Draft, PlayerId, RuleSet } from "@sward/core";
import { triggerOf } from "@sward/core";
import { isDay } from "../card/handicap-setting.ts";
import type { NameForm, NameFormFaults } from "../name-form.ts";
import { nameFaults } from "../name-form.ts";
import { membersWords } from "../words/members.ts";
import type { Counts } from "./assessment.ts";

export interface StartForm {
  /** Of the three-rounds test, as typed; all empty when none was played. */
  readonly counts: Counts;
  /** Null: no starting handicap yet. */
  readonly handicap: number | null;
  /** Of a card kept elsewhere; empty: the trigger point. */
  readonly index: string;
  readonly from: string;
  readonly reason: string;
}

export interface JoinForm extends NameForm, StartForm {
  readonly standing: "member" | "visitor";
  /** A visitor's home club, in words. */
  readonly home: string;
}

export interface JoinFaults extends NameFormFaults {
  readonly index: string | null;
  readonly from: string | null;
  readonly reason: string | null;
}

export function joinFaults(form: JoinForm): JoinFaults | null {
  const sets = form.standing === "member" && form.handicap !== null;
  const faults = { name: nameFaults(form)?.name ?? null, ...(sets ? startFaults(form) : noStartFaults) };
  return Object.values(faults).every((fault) => fault === null) ? null : faults;
}

export type StartFaults = Omit<JoinFaults, "name">;

export const noStartFaults: StartFaults = { index: null, from: null, reason: null };

export const startFaults = ({ index, from, reason }: StartForm): StartFaults => ({
  index: index.trim() === "" || /^[-−]?\d{1,4}$/.test(index.trim()) ? null : membersWords.add.indexNotANumber,
  from: isDay(from) ? null : membersWords.add.fromMissing,
  reason: reason.trim() === "" ? membersWords.add.reasonMissing : null,
});

export const startingIndex = (set: RuleSet | undefined, handicap: number | null): number | null =>
  set === undefined || handicap === null ? null : (triggerOf(set, handicap) ?? null);

/** Joining, and the starting handicap of a member when one was chosen. */
export function joinDrafts(player: PlayerId, form: JoinForm): readonly Draft[] {
  const home = form.home.trim();
  const joined: Draft = {
    kind: "player-joined",
    body: {
      player,
      standing: form.standing,
      ...(form.standing === "visitor" && home !== "" ? { home: { club: home.slice(0, 80) } } : {}),
    },
  };
  return form.standing === "visitor" || form.handicap === null ? [joined] : [joined, startDraft(player, form)];
}

export function startDraft(player: PlayerId, form: StartForm): Draft {
  const index = form.index.trim().replace("−", "-");
  return {
    kind: "handicap-set",
    body: {
      player,
      handicap: form.handicap ?? 0,
      ...(index === "" ? {} : { index: Number(index) }),
      from: form.from,
      basis: "initial",
      reason: form.reason.trim().slice(0, 200),
    },
  };
}
