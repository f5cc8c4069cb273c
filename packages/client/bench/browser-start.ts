/** Starting end to end in a page, with its IndexedDB: a first join, and a cold start in a page of its own (`start.ts`, `cold-start.ts`). */
import * as Y from "yjs";
import { openBook } from "../src/book/book.ts";
import type { DocStore } from "../src/book/doc-store.ts";
import { createMemoryDocStore } from "../src/book/doc-store.ts";
import { createIdbDocStore } from "../src/book/doc-store-idb.ts";
import type { BookOptions } from "../src/book/options.ts";
import { openIdbVault } from "../src/book/vault-idb.ts";
import { createMemoryVault } from "../src/book/vault-memory.ts";
import { createSigner } from "../src/keys/signer.ts";
import { allIn } from "./browser-bare.ts";
import type { PageBook } from "./browser-book.ts";
import { recordsOf, vaultEvents } from "./browser-stages.ts";
import { coldFigures, coldStart } from "./cold-start.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { benchOptions } from "./options.ts";
import { JOINING } from "./start-floors.ts";

const VAULT = "bench-start-vault";
const LEDGER = "bench-start-ledger";

export async function benchStart(page: PageBook, stages: readonly Figure[], runs: number): Promise<Figure[]> {
  const size = page.entries.length;
  const sum = (names: readonly string[]): { what: string; times: readonly number[] } => {
    const floors = stages.filter(({ what }) => names.includes(what)).map(({ floor }) => floor?.value ?? Number.NaN);
    if (floors.length !== names.length) throw new Error(`floors of ${names.join(", ")}`);
    return { what: "sum of its stages' floors", times: [floors.reduce((all, one) => all + one, 0)] };
  };
  const joining = await timed(
    runs,
    () => undefined,
    () => opened(page, { vault: createMemoryVault(), ledgerStore: storeOf(page.update) }),
  );
  const ed25519 = stages.find(({ what }) => what === "verify signatures")?.floor?.value ?? Number.NaN;
  return [
    figure("first join, end to end", joining, { size, floor: sum(JOINING) }),
    figure("first join, beside signatures alone", joining, { size, floor: { what: "bare Ed25519", times: [ed25519] } }),
  ];
}

/** For `coldStartHere`, in a page that has nothing else in memory. */
export async function fillStartHere(page: PageBook): Promise<void> {
  const vault = await openIdbVault(VAULT, vaultEvents);
  await vault.replace(recordsOf(page));
  await vault.close();
  const store = createIdbDocStore(LEDGER, "ledger");
  const doc = new Y.Doc();
  await store.attach(doc);
  Y.applyUpdate(doc, page.update);
  await store.close();
}

export async function coldStartHere(size: number, runs: number): Promise<Figure[]> {
  const found = await coldStart(size, runs, {
    open: async () => ({
      vault: await openIdbVault(VAULT, vaultEvents),
      ledgerStore: createIdbDocStore(LEDGER, "ledger"),
    }),
    bareVault: async () => (await allIn(VAULT, "records")).map((text) => JSON.parse(text as string)),
    bareDocument: () => allIn(LEDGER, "updates"),
  });
  return coldFigures(size, found);
}

const storeOf = (update: Uint8Array): DocStore => ({
  ...createMemoryDocStore(),
  attach: (doc) => {
    Y.applyUpdate(doc, update);
    return Promise.resolve({ sound: true, rows: 0 });
  },
});

/** Opened, read by a first screen, taken in to its end, and closed. */
async function opened(page: PageBook, stores: Pick<BookOptions, "vault" | "ledgerStore">): Promise<void> {
  const device = await createSigner(new Uint8Array(32).fill(1));
  const book = await openBook(benchOptions(page.book, device, stores));
  await book.settled();
  const { entries, cards } = book.state();
  await book.close();
  if (entries !== page.entries.length || cards.size === 0)
    throw new Error(`${entries} of ${page.entries.length} entries are there`);
}
