/**
 * Devices in one room tell each other their heads (`heads.ts`), sealed, about once a minute and only one of those that agree. Where two
 * differ in a part, and still do in the same way half a minute later, each puts its entries of that part into the document again,
 * under a client id nobody has met: whatever swallowed them (two envelopes in one place, a damaged store at somebody's) is behind them
 * then. One that has not handed over all it has, or not read all there is, says nothing and draws no conclusions.
 *
 * Whoever holds the book's secret may lie here. So what a lie can cost is bounded: some entries, once in five minutes, and never twice
 * for the same difference. Of several who could answer about half do at a time.
 */
import type { EntryId } from "@sward/core";
import { base64url } from "jose";
import type { EpochKeys } from "../keys/book-keys.ts";
import { inSteps, neverBreathe } from "./breathing.ts";
import type { Heads } from "./heads.ts";
import { createOwnHeads, headsText, partsOf, readHeads } from "./heads.ts";
import type { BookOptions } from "./options.ts";
import { openEnvelope, seal } from "./seal.ts";

export interface HeadsExchange {
  /** All the relay had has been read. */
  met(): void;
  /** Something was said in the room; all that came before it must have been taken in. */
  heard(said: Uint8Array): Promise<void>;
  close(): void;
}

export interface HeadsDeps {
  readonly options: Pick<BookOptions, "book" | "relay" | "randomBytes" | "breathe">;
  /** Seals what is said. */
  readonly epoch: EpochKeys;
  readonly keysOf: (epoch: number) => EpochKeys | undefined;
  readonly ids: () => Iterable<EntryId>;
  /** In step with the relay, as far as is known: nothing to read, nothing to hand over. */
  readonly inStep: () => boolean;
  readonly say: (sealed: Uint8Array) => void;
  /** Puts entries into the document again, under a new client id. */
  readonly repeat: (ids: readonly EntryId[]) => Promise<void>;
}

const everyMilliseconds = 60_000;
/** After meeting somebody who differs: soon, so that he hears of it, and again before long. */
const soonMilliseconds = 4_000;
const differingMilliseconds = 35_000;
const lastingMilliseconds = 25_000;
const restMilliseconds = 5 * 60_000;
const mostEntries = 2_000;
const mostRemembered = 1_000;

/** Null for a device that meets no relay. */
export function createHeadsExchange(deps: HeadsDeps): HeadsExchange | null {
  const { options, epoch, ids, inStep, repeat } = deps;
  if (options.relay === null) return null;
  // Called by these names alone: a browser's own refuse to be called as methods of something else.
  const { now, random, setTimeout, clearTimeout } = options.relay.deps;
  const speaker = base64url.encode(options.randomBytes(12));
  const own = createOwnHeads();
  /** When a difference was first seen: by speaker, part, and both digests. */
  const since = new Map<string, number>();
  const answered = new Set<string>();
  let timer: unknown = null;
  let met = false;
  let spokenAt = Number.NEGATIVE_INFINITY;
  let repeatedAt = Number.NEGATIVE_INFINITY;

  function wait(milliseconds: number): void {
    clearTimeout(timer);
    timer = setTimeout(() => void speak().catch(() => undefined), milliseconds * (0.75 + random() / 2));
  }

  const ownHeads = (): Promise<Heads> => inSteps(own.of(ids()), options.breathe ?? neverBreathe);

  async function speak(): Promise<void> {
    wait(everyMilliseconds);
    if (!inStep()) return;
    const heads = await ownHeads();
    if (!inStep()) return;
    spokenAt = now();
    deps.say(await seal(options.book, epoch, [headsText(speaker, heads)], options.randomBytes));
  }

  async function heard(sealed: Uint8Array): Promise<void> {
    const texts = await openEnvelope(options.book, deps.keysOf, sealed);
    const said = Array.isArray(texts) ? readHeads((texts as readonly string[])[0] ?? "") : null;
    if (said === null || said.speaker === speaker || !met || !inStep()) return;
    const mine = await ownHeads();
    const differing = mine.flatMap((digest, part) => (digest === said.heads[part] ? [] : [part]));
    if (differing.length === 0) {
      wait(everyMilliseconds);
      return;
    }
    wait(now() - spokenAt > lastingMilliseconds ? soonMilliseconds : differingMilliseconds);
    await answer(said.speaker, mine, said.heads, differing);
  }

  async function answer(who: string, mine: Heads, theirs: Heads, differing: readonly number[]): Promise<void> {
    if (since.size > mostRemembered) since.clear();
    const lasting: number[] = [];
    for (const part of differing) {
      const difference = `${part} ${mine[part]} ${theirs[part]}`;
      const first = since.get(`${who} ${difference}`) ?? now();
      since.set(`${who} ${difference}`, first);
      if (now() - first >= lastingMilliseconds && !answered.has(difference)) lasting.push(part);
    }
    if (lasting.length === 0 || now() - repeatedAt < restMilliseconds || random() < 0.5) return;
    repeatedAt = now();
    if (answered.size > mostRemembered) answered.clear();
    const sorted = partsOf(ids());
    const chosen: EntryId[] = [];
    for (const part of lasting) {
      const entries = sorted[part] ?? [];
      if (chosen.length > 0 && chosen.length + entries.length > mostEntries) break;
      chosen.push(...entries);
      answered.add(`${part} ${mine[part]} ${theirs[part]}`);
    }
    if (chosen.length > 0) await repeat(chosen);
  }

  return {
    met() {
      met = true;
      wait(soonMilliseconds);
    },
    heard,
    close: () => clearTimeout(timer),
  };
}
