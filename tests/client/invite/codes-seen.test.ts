/**
 * Codes as they are drawn, seen as a camera sees them: the drawing's own path is painted into a picture, which is turned a little dark and
 * noisy, and read by the decoder that the scanner uses. Short of a lens, the whole way across the room.
 */
import { systemRandom } from "@sward/client";
import decodeQR from "qr/decode.js";
import { expect, test } from "vitest";
import { codePlan } from "../../../packages/client/src/app/invite/code-plan.ts";
import { codesOfParcel, collectCodes } from "../../../packages/client/src/invite/parcels.ts";

/** A picture of `scale` dots a module; `noise` of 255 at most is taken from or added to each dot, the same for the same seed. */
function picture(text: string, scale: number, noise: number, seed: number) {
  const { size, path } = codePlan(text);
  const across = size * scale;
  const dark = new Uint8Array(size * size);
  for (const [, x, y, run] of path.matchAll(/M(\d+) (\d+)h(\d+)v1h-\d+z/g)) {
    dark.fill(1, Number(y) * size + Number(x), Number(y) * size + Number(x) + Number(run));
  }
  let state = seed;
  const data = new Uint8ClampedArray(across * across * 4);
  for (let at = 0; at < across * across; at += 1) {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    const module = Math.floor(Math.floor(at / across) / scale) * size + Math.floor((at % across) / scale);
    const light = (dark[module] === 1 ? 40 : 190) + ((state >>> 16) % (2 * noise + 1)) - noise;
    data.set([light, light, light, 255], at * 4);
  }
  return { width: across, height: across, data };
}

test("every code of a parcel is read from its picture, dim and noisy, and together they are the parcel (seed 905)", async () => {
  const parcel = systemRandom(1_500);
  const codes = (await codesOfParcel(parcel)) ?? [];
  expect(codes.length).toBeGreaterThan(2);
  const collector = collectCodes();
  let whole: Uint8Array | null = null;
  for (const [place, code] of codes.entries()) {
    const seen = decodeQR(picture(code, 5, 25, 905 + place));
    expect(seen).toBe(code);
    whole = (await collector.take(seen))?.parcel ?? whole;
  }
  expect(whole).toEqual(parcel);
});

test("a picture of something else holds no code", () => {
  const { width, height, data } = picture("https://relay.example", 5, 25, 1);
  data.fill(120);
  expect(() => decodeQR({ width, height, data })).toThrow();
});
