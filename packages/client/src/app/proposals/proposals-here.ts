/**
 * Proposed changes as this device knows them, from the club's own book and every league's: who proposed, who answers, and whether this
 * device may. And where one may be made for somebody: in a league that knows the player, or for a member in the club's own book by a
 * device that may not set handicaps itself. Pure.
 */
import type { BookId, BookState, KeyId, Player, PlayerId, Proposal } from "@sward/core";
import { byCodeUnits, mayAnswer, viewProposals } from "@sward/core";
import { mayHere } from "../permission.ts";
import type { VisitedBook, VisitedDesk } from "../visitors/visited-desk.ts";
import { knownAs } from "../visitors/visited-desk.ts";

export interface SeenProposal {
  readonly book: BookId;
  /** Name of the league; null in the club's own book. */
  readonly league: string | null;
  readonly proposal: Proposal;
  /** The id of our own member it is about; null when it is another club's player. */
  readonly member: PlayerId | null;
  /** It is for this device's club to answer, or for the league that the device is of. */
  readonly ours: boolean;
  /** This device may answer it. */
  readonly mayAnswer: boolean;
  /** Who is to answer: the home club's name; null when the league is. */
  readonly home: string | null;
}

/** Those without an answer first, each group with the latest day first. */
export function proposalsHere({ club, leagues }: VisitedDesk): readonly SeenProposal[] {
  const found = [club, ...leagues].flatMap((book) => proposalsIn(book, club));
  return found.sort(
    (a, b) =>
      Number(a.proposal.answer !== null) - Number(b.proposal.answer !== null) ||
      byCodeUnits(b.proposal.on, a.proposal.on) ||
      byCodeUnits(a.proposal.entry, b.proposal.entry),
  );
}

/** A state is one object until the next entry arrives, and a league's screens and the first one ask for the same. */
const read = new WeakMap<BookState, readonly Proposal[]>();

function viewed(book: VisitedBook): readonly Proposal[] {
  const state = book.state();
  const known = read.get(state) ?? viewProposals({ state, counted: book.counted() });
  read.set(state, known);
  return known;
}

function proposalsIn(book: VisitedBook, club: VisitedBook): readonly SeenProposal[] {
  const state = book.state();
  return viewed(book).map((proposal): SeenProposal => {
    const isLeague = state.as === "league";
    const ids = [proposal.player, ...(state.players.get(proposal.player)?.alsoKnownAs ?? [])];
    const ours = mayAnswer(state, proposal.player, book.device) && state.devices.has(book.device);
    return {
      book: book.id,
      league: isLeague ? state.name : null,
      proposal,
      member: memberOf(club.state(), ids),
      ours,
      mayAnswer: ours && mayHere(book, "change-answered"),
      home: isLeague ? homeIn(state, proposal.player) : state.name,
    };
  });
}

function memberOf(state: BookState, ids: readonly PlayerId[]): PlayerId | null {
  const known = ids.map((id) => knownAs(state, id)).find((id) => id !== null) ?? null;
  const standing = known === null ? undefined : state.players.get(known)?.standing;
  return standing === undefined || standing === "visitor" ? null : known;
}

function homeIn({ players, clubs }: BookState, player: PlayerId): string | null {
  const home = players.get(player)?.home?.book as KeyId | undefined;
  return (home === undefined ? undefined : clubs.get(home)?.name) ?? null;
}

/** A book in which a change may be proposed for somebody, and the id the person has there. */
export interface ProposeIn {
  readonly book: BookId;
  readonly name: string;
  readonly player: PlayerId;
  readonly may: boolean;
}

export function whereToPropose({ club, leagues }: VisitedDesk, person: Player): readonly ProposeIn[] {
  if (person.standing !== "visitor") {
    const { id: book } = club;
    const may = mayHere(club, "change-proposed");
    // Who sets handicaps sets them.
    return mayHere(club, "handicap-set") ? [] : [{ book, name: club.state().name, player: person.player, may }];
  }
  return leagues.flatMap((league): ProposeIn[] => {
    const state = league.state();
    const ids = [person.player, ...person.alsoKnownAs];
    const player = ids.map((id) => knownAs(state, id)).find((id) => id !== null);
    return player == null
      ? []
      : [{ book: league.id, name: state.name, player, may: mayHere(league, "change-proposed") }];
  });
}

/** Proposals about a person, in whatever book and under whatever id. */
export function proposalsAbout(desk: VisitedDesk, person: Player): readonly SeenProposal[] {
  const ids = new Set([person.player, ...person.alsoKnownAs]);
  const states = new Map([desk.club, ...desk.leagues].map((book) => [book.id, book.state()]));
  return proposalsHere(desk).filter(({ book, proposal, member }) => {
    const known = states.get(book)?.players.get(proposal.player);
    return member === person.player || [proposal.player, ...(known?.alsoKnownAs ?? [])].some((id) => ids.has(id));
  });
}
