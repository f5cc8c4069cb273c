/** Stages that a first join goes through: the sum of their floors is what it is measured against, under Node and in a browser. */
export const JOINING = [
  "screen and load the document",
  "open envelopes",
  "hash ids",
  "decode and check forms",
  "verify signatures",
];
