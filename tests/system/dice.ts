/**
 * The simulator's only chance: a generator made from one number (sfc32), and others made from it by name. Whatever runs side by side
 * has a generator of its own, named after what it is, so that the order in which the platform's threads finish moves nothing.
 * Rejected: fast-check's arbitraries (a run is one long story with what happens next depending on what is there, not a value).
 */

export interface Dice {
  /** A whole number from 0 to `sides` - 1. */
  below(sides: number): number;
  /** True `percent` times in a hundred. */
  chance(percent: number): boolean;
  /** A whole number, both ends among them. */
  between(least: number, most: number): number;
  pick<T>(among: readonly T[]): T;
  bytes(count: number): Uint8Array;
  /** 128 bits as base64url. */
  id(): string;
  shuffled<T>(all: Iterable<T>): T[];
  /** A generator of its own; the same name, the same generator, whatever was thrown meanwhile. */
  fork(name: string): Dice;
}

export function createDice(seed: string): Dice {
  let [a, b, c, d] = hashed(seed);

  function next(): number {
    const t = (((a + b) | 0) + d) | 0;
    d = (d + 1) | 0;
    a = b ^ (b >>> 9);
    b = (c + (c << 3)) | 0;
    c = (c << 21) | (c >>> 11);
    c = (c + t) | 0;
    return t >>> 0;
  }
  for (let warm = 0; warm < 12; warm += 1) next();

  const dice: Dice = {
    below: (sides) => next() % sides,
    chance: (percent) => next() % 1000 < percent * 10,
    between: (least, most) => least + (next() % (most - least + 1)),
    pick: (among) => among[next() % among.length]!,
    bytes: (count) => Uint8Array.from({ length: count }, () => next() >>> 24),
    id: () => Buffer.from(dice.bytes(16)).toString("base64url"),
    shuffled(all) {
      const list = [...all];
      for (let at = list.length - 1; at > 0; at -= 1) {
        const other = next() % (at + 1);
        [list[at], list[other]] = [list[other]!, list[at]!];
      }
      return list;
    },
    fork: (name) => createDice(`${seed}/${name}`),
  };
  return dice;
}

/** Four words from a text (cyrb128). */
function hashed(text: string): [number, number, number, number] {
  let [h1, h2, h3, h4] = [1779033703, 3144134277, 1013904242, 2773480762];
  for (let at = 0; at < text.length; at += 1) {
    const code = text.charCodeAt(at);
    h1 = h2 ^ Math.imul(h1 ^ code, 597399067);
    h2 = h3 ^ Math.imul(h2 ^ code, 2869860233);
    h3 = h4 ^ Math.imul(h3 ^ code, 951274213);
    h4 = h1 ^ Math.imul(h4 ^ code, 2716044179);
  }
  h1 = Math.imul(h3 ^ (h1 >>> 18), 597399067);
  h2 = Math.imul(h4 ^ (h2 >>> 22), 2869860233);
  h3 = Math.imul(h1 ^ (h3 >>> 17), 951274213);
  h4 = Math.imul(h2 ^ (h4 >>> 19), 2716044179);
  return [h1 ^ h2 ^ h3 ^ h4, h2 ^ h1, h3 ^ h1, h4 ^ h1];
}
