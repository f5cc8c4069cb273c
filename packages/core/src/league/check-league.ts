/**
 * One gate for what is about to be signed into a league's book: every league form a screen or a file may bring is asked here, and is
 * let through, with warnings, or refused with the first thing that is wrong. Nothing is changed by asking. What comes from other
 * devices is judged by the models alone, which leave out what may not be.
 *
 * API: `checkLeagueDraft(draft, context)`; who does not want a rule's check, asks `checkTeam`, `checkFixture` or `checkLink` alone.
 *
 * SPEC: LG44 to LG46.
 */
import type { EntryId, FixtureId, KeyId, PlayerId } from "../ids.ts";
import type { Bodies, Draft } from "../ledger/kinds.ts";
import type { LinkFault } from "../people/check-link.ts";
import { checkLink } from "../people/check-link.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";
import type { FixtureFault } from "./fixture-plan.ts";
import { checkFixture } from "./fixture-plan.ts";
import { mayMark } from "./league-book.ts";
import type { LeagueRulesFault } from "./league-rules.ts";
import { parseLeagueRules } from "./league-rules.ts";
import type { Proposal } from "./proposals.ts";
import { mayAnswer } from "./proposals.ts";
import { clubOf, personIn } from "./standing.ts";
import type { TeamContext, TeamFault, TeamWarning } from "./team-check.ts";
import { checkTeam } from "./team-check.ts";

export type LeagueFault =
  | LeagueRulesFault
  | FixtureFault
  | TeamFault
  | LinkFault
  /** The device writes for another club. */
  | { readonly type: "team-of-another-club"; readonly club: KeyId }
  | { readonly type: "mark-unknown-fixture"; readonly fixture: FixtureId }
  /** Another club's fixture, a concession of somebody else, or what only the league may say. */
  | { readonly type: "mark-may-not"; readonly as: Bodies["fixture-marked"]["as"] }
  | { readonly type: "slot-unknown"; readonly fixture: FixtureId; readonly number: number; readonly slots: number }
  /** The device's club does not play in this fixture. */
  | { readonly type: "slot-of-others"; readonly fixture: FixtureId }
  /** Singles where the fixture has doubles, another play or another length. */
  | { readonly type: "slot-other-match"; readonly number: number; readonly differs: "discipline" | "play" | "format" }
  | { readonly type: "stated-by-another-club"; readonly player: PlayerId }
  | { readonly type: "proposal-unknown-player"; readonly player: PlayerId }
  | { readonly type: "answer-unknown-proposal"; readonly proposal: EntryId }
  | { readonly type: "answer-not-home-club"; readonly player: PlayerId };

export interface LeagueContext extends Omit<TeamContext, "rules"> {
  /** Null while the league has no rules that can be read: a team then has none to be checked by. */
  readonly rules: TeamContext["rules"] | null;
  readonly proposals: readonly Proposal[];
  readonly device: KeyId;
}

export function checkLeagueDraft(
  draft: Draft,
  context: LeagueContext,
): Result<{ readonly warnings: readonly TeamWarning[] }, LeagueFault> {
  if (draft.kind === "lineup-named" && context.rules !== null) {
    const own = ownClub(context);
    if (own !== null && own !== draft.body.club) return fail({ type: "team-of-another-club", club: draft.body.club });
    return checkTeam(draft.body, { ...context, rules: context.rules });
  }
  const fault = faultIn(draft, context);
  return fault === null ? ok({ warnings: [] }) : fail(fault);
}

const ownClub = ({ state, device }: LeagueContext): KeyId | null => clubOf(state, device) ?? null;

function faultIn(draft: Draft, context: LeagueContext): LeagueFault | null {
  const { state, league, device, proposals } = context;
  switch (draft.kind) {
    case "league-rules-set": {
      const parsed = parseLeagueRules(draft.body.rules);
      return parsed.ok ? null : parsed.fault;
    }
    case "fixture-set":
      return checkFixture(draft.body, league, state);
    case "fixture-marked": {
      const fixture = league.fixtures.find((one) => one.fixture === draft.body.fixture);
      if (fixture === undefined) return { type: "mark-unknown-fixture", fixture: draft.body.fixture };
      return mayMark(draft.body, ownClub(context), fixture) ? null : { type: "mark-may-not", as: draft.body.as };
    }
    case "match-reported":
      return slotFault(draft.body, context);
    case "player-linked":
      return checkLink(draft.body, state);
    case "handicap-stated": {
      const own = ownClub(context);
      const player = personIn(state)(draft.body.player);
      const home = state.players.get(player)?.home?.book as KeyId | undefined;
      const isOthers = own !== null && home !== undefined && home !== own && state.clubs.has(home);
      return isOthers ? { type: "stated-by-another-club", player: draft.body.player } : null;
    }
    case "change-proposed": {
      const { player } = draft.body;
      return state.players.has(personIn(state)(player)) ? null : { type: "proposal-unknown-player", player };
    }
    case "change-answered": {
      const proposal = proposals.find(({ entry }) => entry === draft.body.proposal);
      if (proposal === undefined) return { type: "answer-unknown-proposal", proposal: draft.body.proposal };
      return mayAnswer(state, proposal.player, device)
        ? null
        : { type: "answer-not-home-club", player: proposal.player };
    }
    default:
      return null;
  }
}

function slotFault(body: Bodies["match-reported"], context: LeagueContext): LeagueFault | null {
  if (body.slot === undefined) return null;
  const { fixture: id, number } = body.slot;
  const fixture = context.league.fixtures.find((one) => one.fixture === id);
  const slot = fixture?.slots[number - 1];
  if (fixture === undefined || slot === undefined) {
    return { type: "slot-unknown", fixture: id, number, slots: fixture?.slots.length ?? 0 };
  }
  const own = ownClub(context);
  if (own !== null && own !== fixture.home && own !== fixture.away) return { type: "slot-of-others", fixture: id };
  const discipline = body.sides[0].length === 2 ? "doubles" : "singles";
  if (discipline !== slot.discipline) return { type: "slot-other-match", number, differs: "discipline" };
  if (body.play !== slot.play) return { type: "slot-other-match", number, differs: "play" };
  return body.format === slot.format ? null : { type: "slot-other-match", number, differs: "format" };
}
