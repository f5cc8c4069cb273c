/** PROTOCOL.md against the code: its bytes, its close codes, its reasons and its limits. */
import { readFileSync } from "node:fs";
import {
  askFrame,
  challengeFrame,
  closeCodes,
  helloFrame,
  longestToken,
  mayRedial,
  readChallenge,
  readFrame,
  readToken,
  receiptFrame,
  refusalFrame,
  screenLimits,
  screenUpdate,
  tokenFrame,
  updateFrame,
} from "@sward/core";
import { defaultConfig } from "@sward/relay";
import { expect, test } from "vitest";
import * as Y from "yjs";

const text = readFileSync(new URL("../../packages/relay/PROTOCOL.md", import.meta.url), "utf8");

/** The bytes beside a name in the last section; `00{39}` is 39 times 00. */
function bytesOf(name: string): Uint8Array {
  const line = (text.split("## Bytes")[1] ?? "").split("\n").find((one) => one.startsWith(`    ${name} `)) ?? "";
  const hex = line
    .slice(name.length + 4)
    .trim()
    .replace(/([0-9a-f]{2})\{(\d+)\}/g, (_all, byte: string, times: string) => byte.repeat(Number(times)));
  return new Uint8Array(Buffer.from(hex.replaceAll(" ", ""), "hex"));
}

test("RL5 the bytes in the document are the bytes on the wire", () => {
  const doc = new Y.Doc();
  doc.clientID = 300;
  expect(askFrame(Y.encodeStateVector(doc))).toEqual(bytesOf("ask, of nothing"));
  const envelope = new Uint8Array(40);
  envelope[0] = 1;
  doc.getArray("entries").push([envelope]);
  expect(askFrame(Y.encodeStateVector(doc))).toEqual(bytesOf("ask, of one item"));
  expect(updateFrame(Y.encodeStateAsUpdate(doc))).toEqual(bytesOf("update"));
  expect(helloFrame("s1")).toEqual(bytesOf("hello"));
  expect(receiptFrame(new Map([[300, 1]]))).toEqual(bytesOf("receipt"));
  expect(refusalFrame({ type: "trailing-bytes", bytes: 3 })).toEqual(bytesOf("refusal, trailing-bytes"));
});

test("RL19 a challenge and a token are the bytes in the document, both ways", () => {
  const reply = { nonce: "n".repeat(16), relay: "http://r", expires: 9 };
  expect(challengeFrame(reply)).toEqual(bytesOf("challenge"));
  expect(readChallenge(bytesOf("challenge"))).toEqual(reply);
  expect(tokenFrame("a.b.c")).toEqual(bytesOf("token"));
  expect(readToken(bytesOf("token"))).toBe("a.b.c");
  // Cut short, with a byte too many, or of another type: neither the one nor the other, and among the other frames none at all.
  for (const frame of [bytesOf("challenge"), bytesOf("token")]) {
    for (const spoilt of [frame.slice(0, -1), Uint8Array.from([...frame, 0]), Uint8Array.from([71, ...frame.slice(1)])])
      expect([readChallenge(spoilt), readToken(spoilt)]).toEqual([null, null]);
    expect(readFrame(frame)).toBeNull();
  }
  expect(readToken(tokenFrame("a".repeat(longestToken)))).toHaveLength(longestToken);
  expect(readToken(tokenFrame("a".repeat(longestToken + 1)))).toBeNull();
  expect(readChallenge(challengeFrame({ ...reply, nonce: "short" }))).toBeNull();
});

test("RL2 close codes and whether to dial again are as the document says", () => {
  const rows = [...text.matchAll(/^\| (\d{4}) \| .* \| (yes|no)\b/gm)].map(([, code, again]) => [
    Number(code),
    again === "yes",
  ]);
  expect(rows.map(([code]) => code)).toEqual(Object.values(closeCodes));
  for (const [code, again] of rows) expect(mayRedial(Number(code)), String(code)).toBe(again);
});

test("RL7 every reason is in the document", () => {
  const source = readFileSync(new URL("../../packages/core/src/transport/refusal.ts", import.meta.url), "utf8");
  const types = [...source.matchAll(/type: "([a-z-]+)"/g)].map(([, type = ""]) => type);
  expect(types.length).toBeGreaterThan(15);
  expect(types.filter((type) => !text.includes(`\`${type}\``))).toEqual([]);
});

test("RL4 the limits in the document are those of an empty configuration", () => {
  const config = defaultConfig();
  const known = { kind: "ledger", policy: "whole" } as const;
  const long = screenUpdate(new Uint8Array(screenLimits.updateBytes + 1), { next: () => 0, clients: 0 }, known);
  expect(long.refusals[0]?.type).toBe("too-long");
  expect(config).toMatchObject({
    messageBytes: 1024 * 1024,
    envelopeBytes: 256 * 1024,
    clients: 4096,
    ledgerBytes: 256 * 1024 * 1024,
    rosterBytes: 8 * 1024 * 1024,
    connections: 2000,
    roomConnections: 200,
    unsentBytes: 128 * 1024 * 1024,
  });
});
