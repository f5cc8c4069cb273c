/** Good input with a few places changed, left out, doubled or put in, and input that is nothing at all. */
import fc from "fast-check";

/** Of a text, at most four changes. */
export const spoiltText = (good: string): fc.Arbitrary<string> =>
  fc
    .array(
      fc.record({
        at: fc.nat(good.length - 1),
        cut: fc.nat(3),
        put: fc.oneof(fc.string({ maxLength: 3 }), fc.constantFrom(".", "=", "é", "\0", '"', "\n", good.slice(0, 40))),
      }),
      { minLength: 1, maxLength: 4 },
    )
    .map((changes) => changes.reduce((text, { at, cut, put }) => text.slice(0, at) + put + text.slice(at + cut), good));

/** Of bytes, at most four changes. */
export const spoiltBytes = (good: Uint8Array): fc.Arbitrary<Uint8Array> =>
  fc
    .array(fc.record({ at: fc.nat(good.length - 1), cut: fc.nat(3), put: fc.uint8Array({ maxLength: 3 }) }), {
      minLength: 1,
      maxLength: 4,
    })
    .map((changes) =>
      changes.reduce(
        (bytes, { at, cut, put }) => Uint8Array.from([...bytes.slice(0, at), ...put, ...bytes.slice(at + cut)]),
        good,
      ),
    );

export const anyText: fc.Arbitrary<string> = fc.oneof(
  fc.string({ unit: "binary", maxLength: 300 }),
  fc.json(),
  fc.json().map((json) => Buffer.from(json).toString("base64url")),
);

export const anyBytes: fc.Arbitrary<Uint8Array> = fc.uint8Array({ maxLength: 300 });
