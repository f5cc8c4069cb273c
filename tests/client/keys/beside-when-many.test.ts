/** Signatures are checked in the page until there have been many. */
import { expect, test } from "vitest";
import { besideWhenMany } from "../../../packages/client/src/keys/beside-when-many.ts";
import type { Ed25519 } from "../../../packages/client/src/keys/ed25519.ts";
import { platformEd25519 } from "../../../packages/client/src/keys/ed25519.ts";

function counted(curve: Ed25519): { readonly curve: Ed25519; count: number } {
  const found = {
    count: 0,
    curve: {
      signing: curve.signing,
      async checking(x: string) {
        const check = await curve.checking(x);
        return (...given: Parameters<typeof check>) => {
          found.count += 1;
          return check(...given);
        };
      },
    },
  };
  return found;
}

async function signed(of: number) {
  const { x, sign } = await platformEd25519.signing(new Uint8Array(32).fill(of));
  const message = new Uint8Array(40).fill(of);
  const signature = (await sign(message)).slice();
  const spoilt = signature.slice();
  spoilt[5] = (spoilt[5] as number) ^ 1;
  return { x, message, signature, spoilt };
}

test("the first are checked here, all after them beside, which is asked for once; the answers are the same", async () => {
  const [here, beside] = [counted(platformEd25519), counted(platformEd25519)];
  let asked = 0;
  const curve = besideWhenMany(here.curve, () => Promise.resolve(beside.curve).finally(() => (asked += 1)), 5);
  const signers = await Promise.all([signed(1), signed(2)]);
  const checks = await Promise.all(signers.map(({ x }) => curve.checking(x)));
  for (let round = 1; round <= 4; round += 1) {
    for (const [n, { message, signature, spoilt }] of signers.entries()) {
      const check = checks[n] as (typeof checks)[number];
      expect(await Promise.all([check(signature, message), check(spoilt, message)])).toEqual([true, false]);
    }
    expect(here.count + beside.count).toBe(round * 4);
  }
  expect([here.count, beside.count, asked]).toEqual([5, 11, 1]);
});

test("when it cannot be had, all are checked here", async () => {
  const here = counted(platformEd25519);
  const curve = besideWhenMany(here.curve, () => Promise.reject(new Error("not fetched")), 1);
  const { x, message, signature, spoilt } = await signed(3);
  const check = await curve.checking(x);
  const answers = await Promise.all([signature, spoilt, signature, spoilt].map((one) => check(one, message)));
  expect(answers).toEqual([true, false, true, false]);
  expect(here.count).toBe(4);
});
