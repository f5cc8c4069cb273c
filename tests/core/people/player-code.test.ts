import type { PlayerId } from "@sward/core";
import { checkSymbol, PlayerId as PlayerIdShape, playerCode, readPlayerCode } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { player } from "../../support/cast.ts";

const SEED = 20_261_127;
const SYMBOLS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

const anyId = fc
  .uint8Array({ minLength: 16, maxLength: 16 })
  .map((bytes) => Buffer.from(bytes).toString("base64url") as PlayerId);

/** A number in base 32 digits, by whole numbers of any size. */
function digitsOf(number: bigint): number[] {
  return number === 0n ? [] : [...digitsOf(number / 32n), Number(number % 32n)];
}

/**
 * 1650553701 has the check symbol J: dCode, "Crockford Base-32", https://www.dcode.fr/crockford-base-32-encoding. What the last five
 * stand for, 32 to 36, is as listed there: * ~ $ = U.
 */
test("PE10 the check symbol is the number modulo 37", () => {
  expect(checkSymbol(digitsOf(1_650_553_701n))).toBe("J");
  expect([32n, 33n, 34n, 35n, 36n, 37n].map((number) => checkSymbol(digitsOf(number))).join("")).toBe("*~$=U0");
});

test(`PE10 an id comes back from its code, and the code is the number in base 32 (seed ${SEED})`, () => {
  const law = fc.property(anyId, (id) => {
    const code = playerCode(id);
    expect(code).toMatch(/^([0-9A-HJKMNP-TV-Z]{5}-){5}[0-9A-HJKMNP-TV-Z][0-9A-HJKMNP-TV-Z*~$=U]$/);
    const number = BigInt(`0x${Buffer.from(id, "base64url").toString("hex")}`);
    const digits = digitsOf(number);
    const shown = digits.map((digit) => SYMBOLS[digit]).join("");
    expect(code.replaceAll("-", "")).toBe(`${shown.padStart(26, "0")}${checkSymbol(digits)}`);
    expect(readPlayerCode(code)).toEqual({ ok: true, value: id });
    expect(PlayerIdShape().safeParse(id).success).toBe(true);
  });
  fc.assert(law, { seed: SEED, numRuns: 300 });
});

test(`PE10 one symbol wrong, or two neighbours exchanged, is always found (seed ${SEED})`, () => {
  const law = fc.property(anyId, fc.nat(25), fc.nat(30), (id, at, step) => {
    const code = playerCode(id).replaceAll("-", "");
    const other = SYMBOLS[(SYMBOLS.indexOf(code[at]!) + 1 + step) % 32]!;
    const wrong = code.slice(0, at) + other + code.slice(at + 1);
    expect(readPlayerCode(wrong)).toMatchObject({ ok: false, fault: { type: "player-code-check" } });
    if (at < 25 && code[at] !== code[at + 1]) {
      const exchanged = code.slice(0, at) + code[at + 1] + code[at] + code.slice(at + 2);
      expect(readPlayerCode(exchanged)).toMatchObject({ ok: false, fault: { type: "player-code-check" } });
    }
  });
  fc.assert(law, { seed: SEED, numRuns: 300 });
});

test("PE10 it is read as people write it", () => {
  const code = playerCode(player("ada"));
  for (const typed of [
    code.toLowerCase(),
    code.replaceAll("-", " "),
    ` ${code.replaceAll("0", "o").replaceAll("1", "l")}\n`,
  ]) {
    expect(readPlayerCode(typed)).toEqual({ ok: true, value: player("ada") });
  }
  expect(readPlayerCode(code.slice(0, -1))).toEqual({
    ok: false,
    fault: { type: "player-code-length", symbols: 26, wanted: 27 },
  });
  const bare = code.replaceAll("-", "");
  expect(readPlayerCode(`${bare.slice(0, 4)}U${bare.slice(5)}`)).toEqual({
    ok: false,
    fault: { type: "player-code-symbol", symbol: "U", at: 5 },
  });
  expect(readPlayerCode(`${bare.slice(0, 26)}!`)).toMatchObject({ fault: { type: "player-code-symbol", at: 27 } });
  // 130 bits with a check symbol that fits.
  const digits = [31, ...Array<number>(25).fill(0)];
  const tooMuch = `Z${"0".repeat(25)}${checkSymbol(digits)}`;
  expect(readPlayerCode(tooMuch)).toMatchObject({ fault: { type: "player-code-check" } });
});
