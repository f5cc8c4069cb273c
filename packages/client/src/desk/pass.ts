/**
 * What makes a browser or a folder into a device of a club: its own seed, and the secrets of the books it may open. It is kept in
 * the device's own storage; a pass in an address is in the fragment, which no browser sends to a server, and is taken out of the
 * address as soon as it is read.
 *
 * The file and form edge: zod reads it.
 */
import type { Result } from "@sward/core";
import { BookId, fail, later, ok } from "@sward/core";
import { base64url } from "jose";
import * as z from "zod/mini";
import type { Epoch } from "../keys/book-keys.ts";

const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));
const bytes32 = later(() => z.string().check(z.regex(/^[A-Za-z0-9_-]{43}$/)));

/** What opens one book: the secret of each of its epochs. */
export const BookPass = later(() =>
  z.object({
    book: BookId(),
    epochs: z.array(z.object({ epoch: z.int(), secret: bytes32() })).check(z.minLength(1)),
  }),
);
export type BookPass = z.infer<ReturnType<typeof BookPass>>;

export const Pass = later(() =>
  z.object({
    v: z.literal(1),
    /** Shown while the roster has no better word: such as "Thornfield pavilion tablet". */
    label: text(80),
    seed: bytes32(),
    club: BookPass(),
    leagues: z.array(BookPass()).check(z.maxLength(20)),
  }),
);
export type Pass = z.infer<ReturnType<typeof Pass>>;

export type PassFault = { readonly type: "not-a-pass" };

export const encodePass = (pass: Pass): string => base64url.encode(JSON.stringify(pass));

export function decodePass(text: string): Result<Pass, PassFault> {
  try {
    const parsed = Pass().safeParse(JSON.parse(new TextDecoder().decode(base64url.decode(text))));
    return parsed.success ? ok(parsed.data) : fail({ type: "not-a-pass" });
  } catch {
    return fail({ type: "not-a-pass" });
  }
}

export const seedOf = (pass: Pass): Uint8Array => base64url.decode(pass.seed);

export const epochsOf = (book: Pass["club"]): Epoch[] =>
  book.epochs.map(({ epoch, secret }) => ({ epoch, secret: base64url.decode(secret) }));

/** What lets a new device into an open book: the secrets of its epochs up to the one it is in. */
export const bookPassOf = ({ id, epochs }: { readonly id: BookId; epochs(): readonly Epoch[] }): BookPass => ({
  book: id,
  epochs: epochs().map(({ epoch, secret }) => ({ epoch, secret: base64url.encode(secret) })),
});
