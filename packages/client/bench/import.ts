/**
 * An import of many games on a device with a disk, once: lines read and judged, entries signed and made durable in parts. The floor is one
 * signature for each game and one synced write for each part.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { BookId, Draft, PlayerId } from "@sward/core";
import { ClassicLevel } from "classic-level";
import { createImporting } from "../src/app/files/importing.ts";
import { PARTS, saveImport } from "../src/app/files/saving.ts";
import type { Book } from "../src/book/book.ts";
import { openBook } from "../src/book/book.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import { randomId, systemClock } from "../src/desk/platform.ts";
import type { Signer } from "../src/keys/signer.ts";
import { createSigner } from "../src/keys/signer.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { benchOptions } from "./options.ts";

const MEMBERS = 60;
const nameOf = (n: number): string => `Bench${n} Player${n}`;

export async function benchImport(games: number): Promise<Figure[]> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  try {
    const root = await createSigner(new Uint8Array(32).fill(1));
    const book = await clubOf(root, join(folder, "vault"));
    const kept = new Map<string, string>();
    const store = {
      getItem: (key: string) => kept.get(key) ?? null,
      setItem: (key: string, value: string) => void kept.set(key, value),
      removeItem: (key: string) => void kept.delete(key),
    };
    const importing = createImporting({
      desk: { club: book, leagues: [], today: systemClock.today },
      store,
      randomId,
      pause: () => new Promise((resolve) => setImmediate(resolve)),
      unnamed: (player: PlayerId) => player,
    });
    const reading = await once(async () => {
      if (!(await importing.take("bench.csv", fileOf(games)))) throw new Error("the file was not read");
    });
    let parts = 0;
    const told = (): void => {
      parts += 1;
    };
    const saving = await once(async () => {
      const deps = { club: book, store, today: systemClock.today(), recordOf: () => undefined };
      const answer = await saveImport(importing, deps, { told, stopped: () => false });
      if (answer.type !== "saved") throw new Error(JSON.stringify(answer));
    });
    if (book.state().matches.size !== games) throw new Error(`${book.state().matches.size} of ${games} games`);
    await book.close();
    const floor = await signaturesAndWrites(root, games, join(folder, "floor"));
    return [
      figure("import, lines read and judged", reading, { size: games }),
      figure(`import, signed and saved in ${parts} parts`, saving, {
        size: games,
        floor: { what: "as many signatures and synced writes", times: floor },
      }),
    ];
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

const once = (work: () => Promise<void>): Promise<number[]> => timed(1, () => undefined, work);

async function clubOf(root: Signer, folder: string): Promise<Book> {
  const vault = await openLevelVault(folder);
  const book = await openBook(benchOptions(root.id as string as BookId, root, { vault }));
  const players = Array.from({ length: MEMBERS }, () => randomId() as PlayerId);
  const append = async (...drafts: Draft[]): Promise<void> => {
    const saved = await book.append(drafts);
    if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
  };
  await append({ kind: "book-opened", body: { root: root.key, as: "club", name: "Bench" } });
  await append({ kind: "rules-adopted", body: { rules: "england-2016", from: "1990-01-01" } });
  for (const [n, player] of players.entries()) {
    await append({ kind: "player-joined", body: { player, standing: "member" } });
    const set = { player, handicap: n % 13, from: "1990-01-01", basis: "initial", reason: "start" } as const;
    await append({ kind: "handicap-set", body: set });
  }
  await book.roster.write(
    new Map(players.map((player, n) => [player, { name: nameOf(n), short: `Bench${n} P` }] as const)),
  );
  return book;
}

/** Thirty a day over as many days as it takes, each pair once a day. */
function fileOf(games: number): string {
  const lines = ["date,player,handicap,opponent,opponent handicap,score,occasion"];
  for (let n = 0; n < games; n += 1) {
    const day = Math.floor(n / (MEMBERS / 2));
    const date = new Date(Date.UTC(2016, 0, 1) + day * 86_400_000).toISOString().slice(0, 10);
    const [one, two] = [n % (MEMBERS / 2), MEMBERS / 2 + ((n + day) % (MEMBERS / 2))];
    lines.push([date, nameOf(one), one % 13, nameOf(two), two % 13, `7-${n % 7}`, "ad-hoc"].join(","));
  }
  return lines.join("\n");
}

async function signaturesAndWrites(device: Signer, games: number, folder: string): Promise<number[]> {
  const db = new ClassicLevel<string, Uint8Array>(folder, { valueEncoding: "view" });
  await db.open();
  const bytes = new Uint8Array(600);
  const times = await once(async () => {
    for (let n = 0; n < games; n += PARTS.part) {
      for (let at = n; at < Math.min(games, n + PARTS.part); at += 1) await device.sign({ typ: "floor" }, bytes);
      await db.put(String(n), new Uint8Array(600 * PARTS.part), { sync: true });
    }
  });
  await db.close();
  return times;
}
