/** Large arrivals read in another thread: the same entries, whatever becomes of the thread. Real keys, envelopes and channels. */
import { fail } from "node:assert";
import type { EpochKeys, Signer } from "@sward/client";
import { createSigner, createVerifier, deriveEpoch, openEnvelope, seal, systemRandom } from "@sward/client";
import type { BookId, EntryId, PublicKey } from "@sward/core";
import { byCodeUnits, createLedger, decodeEntry } from "@sward/core";
import fc from "fast-check";
import { beforeAll, expect, test } from "vitest";
import type { Incoming, Source } from "../../../packages/client/src/book/intake.ts";
import { takeIn } from "../../../packages/client/src/book/intake.ts";
import type { PlacedEnvelope } from "../../../packages/client/src/book/ledger-doc.ts";
import { serveReads } from "../../../packages/client/src/book/read-service.ts";
import { readsBeside } from "../../../packages/client/src/book/reads-beside.ts";
import type { Ed25519 } from "../../../packages/client/src/keys/ed25519.ts";
import { platformEd25519 } from "../../../packages/client/src/keys/ed25519.ts";

const SEED = 20261128;

let root: Signer;
let recorder: Signer;
let stranger: Signer;
let book: BookId;
let keys: EpochKeys;
let otherKeys: EpochKeys;
/** Of every sort: good ones of three authors, forged ones, some of no form, of another book, of an author nobody knows. */
let texts: readonly string[];
let envelopes: readonly PlacedEnvelope[];

const payload = (seq: number, kind: string, body: Record<string, unknown>, of = book) => ({
  v: 1,
  book: of,
  seq,
  prev: null,
  at: "2026-05-01T10:00:00Z",
  kind,
  body,
});
const admits = (device: PublicKey, seq = 1) => payload(seq, "device-admitted", { device, role: "recorder" });
const joins = (seq: number) => payload(seq, "player-joined", { player: "A".repeat(22), standing: "visitor" });

beforeAll(async () => {
  const signer = (fill: number) => createSigner(new Uint8Array(32).fill(fill));
  [root, recorder, stranger] = await Promise.all([signer(1), signer(2), signer(3)]);
  const unknown = await signer(4);
  book = root.id as string as BookId;
  keys = await deriveEpoch(book, { epoch: 0, secret: new Uint8Array(32).fill(9) });
  otherKeys = await deriveEpoch(book, { epoch: 0, secret: new Uint8Array(32).fill(8) });
  const by = (who: Signer, seqs: number) => Array.from({ length: seqs }, (_, seq) => who.signEntry(joins(seq + 5)));
  texts = await Promise.all([
    // Before the key that checks them is stated.
    ...by(stranger, 70),
    root.signEntry(payload(0, "book-opened", { root: root.key, as: "club", name: "Testers" })),
    root.signEntry(admits(recorder.key)),
    ...by(recorder, 90),
    recorder.signEntry(admits(stranger.key, 0)),
    ...by(unknown, 5),
    root.signEntry(payload(7, "policy-set", { unconfirmed: "waits" }, stranger.id as string as BookId)),
    root.signEntry(payload(8, "lawn-mown", { lawn: 2 })),
    ...by(root, 90),
  ]);
  // Whatever states no key.
  const bare = (n: number): boolean => n < 70 || (n > 71 && n !== 162);
  const spoilt = (text: string, n: number): string =>
    n % 17 === 3 ? `${text.slice(0, -86)}${"A".repeat(86)}` : n % 23 === 5 ? "x" : text;
  texts = texts.map((text, n) => (bare(n) ? spoilt(text, n) : text));
  const blocks: string[][] = [];
  for (let [from, size] = [0, 1]; from < texts.length; from += size, size = (size % 5) + 1) {
    blocks.push(texts.slice(from, from + size));
  }
  envelopes = await Promise.all(
    blocks.map(async (block, clock) => ({
      place: { client: 1, clock },
      envelope: await seal(book, clock % 10 === 8 ? otherKeys : keys, block, systemRandom),
    })),
  );
});

/** How it is read without help, as the page does. */
async function here(placed: readonly PlacedEnvelope[]): Promise<Incoming[]> {
  const found: Incoming[] = [];
  for (const { place, envelope } of placed) {
    const opened = await openEnvelope(book, () => keys, envelope);
    if (!("type" in opened)) for (const jws of opened) found.push({ jws, place });
  }
  return found;
}

/** What becomes of the helper after so many slices. */
type Fate = "lives" | "dies" | "throws" | "silent" | "not-there";

function scene(fate: Fate, after = 0, threads = 1) {
  const happened = { started: 0, stopped: 0, asked: 0, checkedThere: 0, here: 0, mostInHand: 0 };
  const timers: (() => void)[] = [];
  const counted: Ed25519 = {
    ...platformEd25519,
    async checking(x) {
      const check = await platformEd25519.checking(x);
      return (...given) => {
        happened.checkedThere += 1;
        return check(...given);
      };
    },
  };
  const beside = readsBeside({
    threads,
    start(heard, failed) {
      if (fate === "not-there") throw new Error("no workers here");
      happened.started += 1;
      let inHand = 0;
      const { port1, port2 } = new MessageChannel();
      const service = serveReads(
        () => Promise.resolve(counted),
        (answer) => port2.postMessage(answer),
      );
      port2.onmessage = ({ data }) => service(data);
      port1.onmessage = ({ data }) => {
        inHand -= 1;
        heard(data);
      };
      return {
        begin: (begin) => port1.postMessage(begin),
        ask(asked) {
          happened.asked += 1;
          inHand += 1;
          happened.mostInHand = Math.max(happened.mostInHand, inHand);
          if (fate === "lives" || happened.asked <= after) port1.postMessage(asked, [asked.bytes.buffer]);
          else if (fate === "throws") throw new Error("cannot be cloned");
          else if (fate === "dies") setImmediate(failed);
          // As after half a minute.
          else setImmediate(() => timers.at(-1)?.());
        },
        stop() {
          happened.stopped += 1;
          port1.close();
        },
      };
    },
    setTimeout: (run) => timers.push(run),
    clearTimeout: () => undefined,
  });
  return { beside, happened, timers };
}

async function taken(
  source: (verifier: ReturnType<typeof createVerifier>) => Source,
  held: ReadonlyMap<EntryId, string>,
) {
  const verifier = createVerifier();
  const found = await takeIn(
    book,
    source(verifier),
    verifier,
    (id) => held.get(id),
    createLedger(book).small,
    () => undefined,
  );
  if (found === "not-filed") return fail("nothing is filed");
  const known = [root, recorder, stranger].filter(({ id }) => verifier.knows(id)).length;
  const { again, held: good, unchecked, arrivals, keyless, refused } = found;
  const inOrder = <T extends { readonly jws: string }>(some: readonly T[]): readonly T[] =>
    [...some].sort((a, b) => byCodeUnits(a.jws, b.jws));
  const ids = arrivals.map(({ entry }) => entry.id).sort();
  const met = again.map(({ id }) => id).sort();
  // Written out: a text is made when it is asked for.
  const said = good.map(({ id, jws, understood, place }) => ({ id, jws, understood, place }));
  return { met, held: inOrder(said), unchecked: inOrder(unchecked), ids, keyless, refused, known };
}

const readHere = (held: ReadonlyMap<EntryId, string> = new Map()) =>
  taken(() => ({ slices: 1, slice: () => here(envelopes) }), held);

/** The same envelopes, met so many times. */
const again = (times: number): PlacedEnvelope[] => Array.from({ length: times }, () => envelopes).flat();

const readBeside = (
  { beside, happened }: ReturnType<typeof scene>,
  held: ReadonlyMap<EntryId, string> = new Map(),
  all = envelopes,
) =>
  taken(
    (verifier) =>
      beside.source(all, {
        book,
        epochs: new Map([[0, keys]]),
        held: held.keys(),
        keys: verifier.keys,
        here(placed) {
          happened.here += 1;
          return here(placed);
        },
      }),
    held,
  );

test("what is read beside is what is read here: entries, what waits, what is refused", async () => {
  const at = scene("lives");
  const expected = await readHere();
  expect(await readBeside(at)).toEqual(expected);
  expect(expected.held.length).toBeGreaterThan(200);
  expect(expected.unchecked.length).toBeGreaterThan(3);
  expect(expected.refused).toBeGreaterThan(10);
  expect(expected.known).toBe(3);
  expect(at.happened).toMatchObject({ started: 1, stopped: 0, here: 0 });
  expect(at.happened.asked).toBeGreaterThan(1);
  expect(at.happened.checkedThere).toBeGreaterThan(140);
});

test("the signatures of entries that are held are not checked again", async () => {
  const first = await readHere();
  const held = new Map(first.held.map(({ id, jws }) => [id, jws]));
  const at = scene("lives");
  const expected = await readHere(held);
  expect(await readBeside(at, held)).toEqual(expected);
  expect(expected.held).toEqual([]);
  expect(expected.met.length).toBe(first.held.length);
  // Forged ones whose good text did not come are tried again, since nothing is held of them.
  expect(at.happened.checkedThere).toBeLessThan(texts.length - first.held.length);
});

test.each<Fate>(["dies", "throws", "silent", "not-there"])(
  "a helper that %s is given up for good; all of it is read here",
  async (fate) => {
    const at = scene(fate);
    const expected = await readHere();
    expect(await readBeside(at)).toEqual(expected);
    const asked = at.happened.asked;
    expect(await readBeside(at)).toEqual(expected);
    expect(at.happened.asked).toBe(asked);
    expect(at.happened.stopped).toBe(fate === "not-there" ? 0 : 1);
  },
);

test("a thread has some slices in hand and not all there are; another one begins when its hands are full", async () => {
  const at = scene("lives", 0, 2);
  await readBeside(at);
  expect(at.happened.started).toBe(1);
  const many = again(20);
  const reading = { book, epochs: new Map([[0, keys]]), held: [], keys: () => [root.key], here };
  const source = at.beside.source(many, reading);
  const found: Incoming[] = [];
  for (let slice = 0; slice < source.slices; slice += 1) found.push(...(await source.slice(slice)));
  expect(found.length).toBe(20 * (await here(envelopes)).length);
  expect(at.happened).toMatchObject({ started: 2, mostInHand: 8 });
});

test("two threads read what one would, and what signs with a key that the other met is tried here", async () => {
  const at = scene("lives", 0, 2);
  const all = again(12);
  const expected = await taken(() => ({ slices: 1, slice: () => here(all) }), new Map());
  expect(await readBeside(at, new Map(), all)).toEqual(expected);
  expect(at.happened).toMatchObject({ started: 2, stopped: 0, here: 0 });
});

test(`whenever a helper of one, two or three is lost, the entries are the same (seed ${SEED})`, async () => {
  const all = again(5);
  const expected = await taken(() => ({ slices: 1, slice: () => here(all) }), new Map());
  let most = 0;
  await fc.assert(
    fc.asyncProperty(
      fc.constantFrom<Fate>("dies", "throws", "silent"),
      fc.nat(8),
      fc.nat(2),
      async (fate, after, more) => {
        const at = scene(fate, after, 1 + more);
        expect(await readBeside(at, new Map(), all)).toEqual(expected);
        expect(at.happened.here).toBeGreaterThan(0);
        expect(at.happened.stopped).toBe(at.happened.started);
        most = Math.max(most, at.happened.started);
      },
    ),
    { seed: SEED, numRuns: 5 },
  );
  expect(most).toBe(2);
});

test("with nothing left to read the helper is let go, and begins anew when there is more", async () => {
  const at = scene("lives");
  const expected = await readBeside(at);
  at.timers.at(-1)?.();
  expect(at.happened).toMatchObject({ started: 1, stopped: 1 });
  expect(await readBeside(at)).toEqual(expected);
  expect(at.happened).toMatchObject({ started: 2, stopped: 1, here: 0 });
});

test("an entry of an author whose key nobody stated waits, and no other", async () => {
  const { unchecked } = await readBeside(scene("lives"));
  for (const { jws } of unchecked) {
    const decoded = decodeEntry(jws);
    expect(decoded.ok && [root.id, recorder.id, stranger.id].includes(decoded.value.author)).toBe(false);
  }
});
