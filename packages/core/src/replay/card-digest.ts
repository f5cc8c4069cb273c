/**
 * The SHA-256 of a card's lines, as text, one a line, up to any line; kept so that it can go on from where lines have not changed.
 * States of the hash are left every so many lines; a line is made for the hash and not kept. What many lines come to for the first time is
 * asked of the platform (`steps.ts`), which leaves no states. Rejected: a chain of digests line by line (it goes on as easily, but the
 * digest signed would be of our own making and nobody could check it with one command).
 *
 * SPEC: RP.
 */
import { sha256 } from "@noble/hashes/sha2.js";
import { utf8ToBytes } from "@noble/hashes/utils.js";
import type { EntryId } from "../ids.ts";
import { base64urlOf } from "../ledger/base64url.ts";
import type { CardLine } from "../state.ts";
import type { Lines } from "./card-lines.ts";
import type { Steps } from "./steps.ts";

type Hash = ReturnType<typeof sha256.create>;

const EVERY = 64;

/** Fewer lines than this are hashed before a platform has answered. */
const MANY = 256;

export class RunningDigest {
  /** After each EVERY lines. */
  #states: Hash[] = [];
  /** Lines hashed so far, those hashed again counted again. */
  hashed = 0;
  /** Texts of EVERY lines each, from the first on, of which no states were left. */
  #texts: string[] = [];

  /** What is after so many lines is no longer what was hashed. */
  cut(lines: number): void {
    this.#texts = [];
    this.#states.length = Math.min(this.#states.length, Math.floor(lines / EVERY));
  }

  /** To be gone back to, when the lines are again what they are now. */
  get states(): readonly Hash[] {
    return [...this.#states];
  }

  goBack(states: readonly Hash[]): void {
    this.#texts = [];
    this.#states = [...states];
  }

  /** Lets go of what is of use only from one signature of a card to the next. */
  rest(): void {
    this.#texts = [];
  }

  /** Of the first `count` lines, base64url. The lines before the last cut must be those of the call before. */
  *of(lines: Pick<Lines, "lineAt">, count: number): Steps<EntryId> {
    const known = Math.min(this.#states.length, Math.floor(count / EVERY));
    // What was written out for the signature before is at hand.
    const before = known > 0 ? [] : this.#texts.slice(0, Math.floor(count / EVERY));
    const pieces = [...before, ...piecesOf(lines, (known + before.length) * EVERY, count)];
    this.hashed += count - (known + before.length) * EVERY;
    const given = known === 0 && count >= MANY ? yield () => pieces.join("") : undefined;
    if (given) {
      this.#texts = pieces.slice(0, Math.floor(count / EVERY));
      return base64urlOf(given) as EntryId;
    }
    const hash = known === 0 ? sha256.create() : (this.#states[known - 1] as Hash).clone();
    for (const [n, piece] of pieces.entries()) {
      hash.update(utf8ToBytes(piece));
      if ((known + n + 1) * EVERY <= count) this.#states.push(hash.clone());
    }
    return base64urlOf(hash.digest()) as EntryId;
  }
}

/** Many lines to a piece: to encode a text costs more for each call than for each letter. */
function piecesOf(lines: Pick<Lines, "lineAt">, from: number, to: number): string[] {
  const pieces: string[] = [];
  let said = "";
  for (let place = from; place < to; place++) {
    said += `${place === 0 ? "" : "\n"}${lineText(lines.lineAt(place))}`;
    if ((place + 1) % EVERY !== 0 && place + 1 !== to) continue;
    pieces.push(said);
    said = "";
  }
  return pieces;
}

/**
 * What a signature vouches for in a line: what was played, what it moved, where it left index and handicap. In the canonical form of
 * JSON (RFC 8785) by hand, members in their order: a card of ten years is written out whole, and what takes any value is four times as slow.
 */
export function lineText(line: CardLine): string {
  const { date, reason, index, handicap } = line;
  const head = `{"date":${text(date)},`;
  if (line.line === "set")
    return `${head}"entry":${text(line.entry)},"handicap":${handicap},"index":${index},"reason":${text(reason)}}`;
  const opponents = line.opponents.map(({ player, off }) => `{"off":${off},"player":${text(player)}}`).join(",");
  return `${head}"game":${line.game},"handicap":${handicap},"index":${index},"match":${text(line.match)},"off":${line.off},"opponents":[${opponents}],"points":${line.points},"reason":${text(reason)},"score":[${line.score.join(",")}]}`;
}

const text = (of: string): string => JSON.stringify(of);
