import { verifyRecordFile } from "@sward/client";
import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import { sentenceOf } from "../../../packages/client/src/messages.ts";
import { signedClub } from "./signed-club.ts";

let text: string;

beforeAll(async () => {
  const club = await signedClub();
  await club.plays("2026-05-01", "ada", "ben", "7-4");
  text = await club.record(null);
});

/** Refused, with a line and a sentence. */
async function isRefused(altered: string): Promise<void> {
  const verified = await verifyRecordFile(altered);
  if (verified.ok) throw new Error("it was taken for a good record");
  expect(verified.fault.line).toBeGreaterThan(0);
  expect(sentenceOf(verified.fault)).toMatch(/^\S.*\.$/);
}

const SEED = 20_310_615;

test(`RE12 RE16 no character of a record can be changed, put in or taken out without being noticed (seed ${SEED})`, async () => {
  console.info(`seed ${SEED}`);
  const characters = fc.constantFrom(...'AQgwBz09-_."\\ \n\r{}\u00e9\u0000');
  const change = fc.record({
    at: fc.nat(text.length - 1),
    out: fc.nat(3),
    put: fc.string({ unit: characters, maxLength: 3 }),
  });
  await fc.assert(
    fc.asyncProperty(change, async ({ at, out, put }) => {
      const altered = text.slice(0, at) + put + text.slice(at + out);
      fc.pre(altered !== text);
      await isRefused(altered);
    }),
    { seed: SEED, numRuns: 600 },
  );
});

test(`RE12 RE18 every single bit of a record counts (seed ${SEED})`, async () => {
  const bytes = new TextEncoder().encode(text);
  await fc.assert(
    fc.asyncProperty(fc.nat(bytes.length - 1), fc.nat(7), async (at, bit) => {
      const altered = bytes.slice();
      altered[at]! ^= 1 << bit;
      await isRefused(new TextDecoder().decode(altered));
    }),
    { seed: SEED, numRuns: 600 },
  );
});

test(`RE18 reading never throws, whatever the bytes (seed ${SEED})`, async () => {
  const bytes = fc.uint8Array({ maxLength: 400 });
  const halves = fc
    .tuple(fc.nat(text.length), bytes)
    .map(([at, noise]) => text.slice(0, at) + new TextDecoder().decode(noise));
  const segment = fc
    .oneof(fc.string({ unit: "binary" }), fc.json(), fc.constant(""))
    .map((part) => Buffer.from(part).toString("base64url"));
  const jws = fc
    .tuple(segment, segment, fc.oneof(segment, fc.constant("A".repeat(86))))
    .map((parts) => JSON.stringify(parts.join(".")));
  const rows = fc
    .array(fc.oneof(jws, fc.json(), fc.string()), { maxLength: 6 })
    .map((all) => all.map((row) => `${row}\n`).join(""));
  const behindGood = rows.map((more) => `${text.split("\n")[0]}\n${more}`);
  await fc.assert(
    fc.asyncProperty(
      fc.oneof(
        bytes.map((noise) => new TextDecoder().decode(noise)),
        halves,
        rows,
        behindGood,
      ),
      async (altered) => {
        fc.pre(altered !== text);
        await isRefused(altered);
      },
    ),
    { seed: SEED, numRuns: 1500 },
  );
});

test("RE18 deep, long and hostile lines are refused, not choked on", async () => {
  for (const row of [
    "[".repeat(200_000),
    `"${"a".repeat(5_000_000)}"`,
    `${"\n".repeat(100_000)}`,
    '{"__proto__":{"v":1}}',
  ]) {
    await isRefused(row);
    await isRefused(`${row}\n`);
    await isRefused(`${text}${row}\n`);
  }
  const deep = Buffer.from(`{"v":1,"book":${"[".repeat(10_000)}${"]".repeat(10_000)}}`).toString("base64url");
  const [header, , signature] = (JSON.parse(text.split("\n")[0]!) as string).split(".");
  await isRefused(`"${header}.${deep}.${signature}"\n`);
});
