/**
 * A player's id as a code that can be read out over the telephone, written on a slip and typed in by somebody with cold fingers: by it a
 * visitor is joined to the home club's player without anybody's name being sent. Base 32 as Douglas Crockford wrote it down (no I, L, O
 * or U; lower case is the same; I and L are read as 1, O as 0) with his check symbol, the number modulo 37, which finds any one symbol
 * wrong and any two neighbours exchanged. Hyphens are for the eye.
 *
 * Source: Base 32, https://www.crockford.com/base32.html, read in https://nick.groenen.me/notes/crockfords-base32
 *
 * The code says who, and proves nothing: anybody who was told it can say it. What it joins can be undone.
 *
 * API: `playerCode(id)` · `readPlayerCode(typed)`.
 *
 * SPEC: PE10.
 */
import type { PlayerId } from "../ids.ts";
import type { Result } from "../result.ts";
import { fail, ok } from "../result.ts";

export type PlayerCodeFault =
  | { readonly type: "player-code-length"; readonly symbols: number; readonly wanted: number }
  /** `at` counts the symbols from 1, hyphens left out. */
  | { readonly type: "player-code-symbol"; readonly symbol: string; readonly at: number }
  /** A symbol is wrong, or two have changed places. */
  | { readonly type: "player-code-check" };

const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";
/** The check symbol may also be one of the last five. */
const CHECKS = `${SYMBOLS}*~$=U`;
const BASE64URL = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

const BITS = 128;
const LENGTH = Math.ceil(BITS / 5);
const GROUP = 5;

/** The check symbol of a number written in base 32 digits. */
export const checkSymbol = (digits: readonly number[]): string =>
  CHECKS[digits.reduce((rest, digit) => (rest * 32 + digit) % 37, 0)] ?? "";

/** 27 symbols in groups of five: `0A1B2-C3D4E-...`. */
export function playerCode(player: PlayerId): string {
  const bits = [...player].flatMap((letter) => bitsOf(BASE64URL.indexOf(letter), 6)).slice(0, BITS);
  const digits = valuesOf([...Array<number>(LENGTH * 5 - BITS).fill(0), ...bits], 5);
  const symbols = digits.map((digit) => SYMBOLS[digit]).join("") + checkSymbol(digits);
  return (symbols.match(new RegExp(`.{1,${GROUP}}`, "g")) ?? []).join("-");
}

/** @param typed as a person writes it: blanks, hyphens and lower case do not matter */
export function readPlayerCode(typed: string): Result<PlayerId, PlayerCodeFault> {
  const symbols = [...typed.replace(/[\s-]/g, "").toUpperCase()].map((one) =>
    one === "O" ? "0" : one === "I" || one === "L" ? "1" : one,
  );
  if (symbols.length !== LENGTH + 1)
    return fail({ type: "player-code-length", symbols: symbols.length, wanted: LENGTH + 1 });
  const digits = symbols.slice(0, -1).map((symbol) => SYMBOLS.indexOf(symbol));
  const bad = digits.indexOf(-1);
  const last = symbols.at(-1) ?? "";
  if (bad !== -1) return fail({ type: "player-code-symbol", symbol: symbols[bad] ?? "", at: bad + 1 });
  if (!CHECKS.includes(last)) return fail({ type: "player-code-symbol", symbol: last, at: LENGTH + 1 });
  const bits = digits.flatMap((digit) => bitsOf(digit, 5));
  const spare = bits.length - BITS;
  // More than 128 bits is no id, whatever its check symbol says.
  if (checkSymbol(digits) !== last || bits.slice(0, spare).includes(1)) return fail({ type: "player-code-check" });
  const padded = [...bits.slice(spare), ...Array<number>(132 - BITS).fill(0)];
  return ok(
    valuesOf(padded, 6)
      .map((value) => BASE64URL[value])
      .join("") as PlayerId,
  );
}

const bitsOf = (value: number, count: number): number[] =>
  Array.from({ length: count }, (_, at) => Math.floor(value / 2 ** (count - 1 - at)) % 2);

/** Groups of bits as numbers, the first bit the greatest. */
function valuesOf(bits: readonly number[], size: number): number[] {
  const values: number[] = [];
  for (let at = 0; at < bits.length; at += size) {
    values.push(bits.slice(at, at + size).reduce((value, bit) => value * 2 + bit, 0));
  }
  return values;
}
