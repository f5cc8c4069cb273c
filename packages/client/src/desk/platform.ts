/** A platform's clock and randomness, made in one place so that everything else is handed them. */
import type { Clock } from "../book/options.ts";

export const systemClock: Clock = {
  timestamp: () => `${new Date().toISOString().slice(0, 19)}Z`,
  today: () => {
    const now = new Date();
    const two = (value: number) => String(value).padStart(2, "0");
    return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  },
};

export const systemRandom = (count: number): Uint8Array => crypto.getRandomValues(new Uint8Array(count));

/** 128 random bits as base64url, for player, event and fixture ids. */
export function randomId(randomBytes: (count: number) => Uint8Array = systemRandom): string {
  const bytes = randomBytes(16);
  return btoa(String.fromCharCode(...bytes))
    .replaceAll("+", "-")
    .replaceAll("/", "_")
    .replaceAll("=", "");
}

/** Live entries are few; an import is sealed in blocks of this many. */
export const ENTRIES_PER_BLOCK = 200;
