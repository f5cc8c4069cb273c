/**
 * The cards of a book: which of them are owed since something on them changed, and making these, each folded on from where it did and
 * with how its signatures stand.
 *
 * A signature of many lines may wait for a digest (`steps.ts`). Whoever needs all cards meanwhile has the card under way finished without
 * it, by going on with the very same steps; who gave the digest then finds nothing left to do. Rejected: a lock until the digest has come
 * (a screen asks for the state whenever it is drawn), and to begin that card anew (it has been folded, and what changed on it forgotten).
 *
 * SPEC: RP.
 */
import type { BookId, EntryId, PlayerId } from "../ids.ts";
import type { Card, Player } from "../state.ts";
import type { Adoptions } from "./adoption.ts";
import type { Books } from "./books.ts";
import type { FoldInput } from "./card-input.ts";
import { cardOf } from "./card-lines.ts";
import type { Past } from "./career.ts";
import { inputAcross } from "./career.ts";
import { RunningCard } from "./running-card.ts";
import type { KnownSignature, KnownSignatures } from "./signatures.ts";
import { RunningSignatures } from "./signatures.ts";
import type { Steps } from "./steps.ts";
import { atOnce } from "./steps.ts";
import type { Cost } from "./touched.ts";
import { nothingDone } from "./touched.ts";
import { isAtHome } from "./view.ts";

/** What cards are made from besides their matches, as it is now. */
export interface CardSources {
  readonly book: BookId;
  readonly books: Books;
  readonly players: ReadonlyMap<PlayerId, Player>;
  readonly pasts: ReadonlyMap<PlayerId, Past>;
  readonly adoptions: Adoptions | null;
  readonly events: FoldInput["events"];
}

interface Running {
  readonly card: RunningCard;
  readonly signatures: RunningSignatures;
}

export class BookCards {
  /** Those that are made. */
  readonly all = new Map<PlayerId, Card>();
  readonly #running = new Map<PlayerId, Running>();
  readonly #owed = new Set<PlayerId>();
  #underway: Steps<void> | null = null;
  readonly #sources: () => CardSources;

  constructor(sources: () => CardSources) {
    this.#sources = sources;
  }

  /** After `finish`. */
  clear(): void {
    this.#running.clear();
    this.#owed.clear();
    this.all.clear();
  }

  owe(player: PlayerId): void {
    this.#owed.add(player);
  }

  /** What is put on it or dropped counts when the card is next made. */
  running(player: PlayerId): RunningCard {
    return this.#runningOf(player).card;
  }

  /** Undefined where nothing was ever put on it. */
  begun(player: PlayerId): RunningCard | undefined {
    return this.#running.get(player)?.card;
  }

  /** Makes what is owed. Nothing may be put on a card between two steps unless `finish` was called before. */
  *making(known?: KnownSignatures): Steps<Cost> {
    const cost = nothingDone();
    this.finish();
    for (const player of this.#owed) {
      yield;
      // Others may have gone on with theirs meanwhile, and have had this one made.
      this.finish();
      if (!this.#owed.has(player)) continue;
      this.#underway = this.#make(player, cost, known);
      yield* this.#underway;
    }
    return cost;
  }

  /** The card under way, without what was asked for it. */
  finish(): void {
    if (this.#underway !== null) atOnce(this.#underway);
  }

  makeAll(): void {
    if (this.#owed.size > 0) atOnce(this.making());
  }

  /** How the signatures of all cards were found to stand. */
  known(): KnownSignatures {
    this.makeAll();
    const all = new Map<EntryId, KnownSignature>();
    for (const { signatures } of this.#running.values()) for (const [id, one] of signatures.known()) all.set(id, one);
    return all;
  }

  *#make(player: PlayerId, cost: Cost, found?: KnownSignatures): Steps<void> {
    try {
      const card = yield* this.#folded(player, cost, found);
      // Until now those who hold a state find the card that was.
      this.all.delete(player);
      if (card !== null) this.all.set(player, card);
    } finally {
      this.#owed.delete(player);
      this.#underway = null;
    }
  }

  *#folded(player: PlayerId, cost: Cost, found?: KnownSignatures): Steps<Card | null> {
    const { book, books, players, pasts, adoptions: own, events } = this.#sources();
    const known = players.get(player);
    if (known === undefined || known.standing === "visitor" || !isAtHome(known, book)) return null;
    const { adoptions, sets, signed, ...input } = inputAcross(player, pasts.get(player), books, own, events);
    if (adoptions === null) return null;
    const { card, signatures } = this.#runningOf(player);
    const folded = card.fold({ player, adoptions, ...input }, sets);
    if (folded === null) return null;
    const { rows } = folded;
    const [hashed, made] = [signatures.hashed, rows.made];
    const kept = found === undefined ? folded.kept : rows.count;
    const standing = yield* signatures.settling({ ...folded, kept }, signed, found);
    cost.folded += folded.folded;
    cost.written += folded.written;
    cost.made += rows.made - made;
    cost.hashed += signatures.hashed - hashed;
    return cardOf(player, rows, standing);
  }

  #runningOf(player: PlayerId): Running {
    const held = this.#running.get(player);
    if (held !== undefined) return held;
    const fresh = { card: new RunningCard(), signatures: new RunningSignatures() };
    this.#running.set(player, fresh);
    return fresh;
  }
}
