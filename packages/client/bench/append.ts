/**
 * Saving one match on a device with a disk: checked, signed, durable, counted, sealed and in the document. The floor is what no
 * design can do without: one Ed25519 signature and one synced LevelDB write of the same bytes.
 */
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { ClassicLevel } from "classic-level";
import { openBook } from "../src/book/book.ts";
import { openLevelVault } from "../src/book/vault-level.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";
import { benchOptions } from "./options.ts";
import { benchSigners } from "./signed.ts";
import { benchBook } from "./world.ts";

export async function benchAppend(size: number, count: number): Promise<Figure[]> {
  const folder = await mkdtemp(join(tmpdir(), "sward-bench-"));
  const signers = await benchSigners();
  const [, device] = signers;
  if (device === undefined) throw new Error("a device");
  const bench = await benchBook(size, signers, true);
  const vault = await openLevelVault(join(folder, "vault"));
  await vault.append({
    entries: bench.entries.map(({ id, jws }, clock) => ({ id, jws, understood: true, place: { client: 1, clock } })),
  });
  const book = await openBook(benchOptions(bench.book, device, { vault }));
  await book.settled();
  let n = 0;
  const ours = await timed(
    count,
    async () => {
      n += 1;
      const { draft } = await bench.next();
      return { ...draft, body: { ...draft.body, n: 1 + (n % 50), format: n % 2 === 0 ? 7 : 19 } } as typeof draft;
    },
    async (draft) => {
      const fits =
        draft.kind === "match-reported"
          ? { ...draft, body: { ...draft.body, games: fitting(draft.body.format) } }
          : draft;
      const saved = await book.append([fits as typeof draft]);
      if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
    },
  );
  await book.close();

  const db = new ClassicLevel<string, Uint8Array>(join(folder, "floor"), { valueEncoding: "view" });
  await db.open();
  const bytes = new TextEncoder().encode(bench.entries.at(-1)?.jws ?? "");
  const floor = await timed(
    count,
    () => undefined,
    async () => {
      await device.sign({ typ: "floor" }, bytes);
      n += 1;
      await db.put(String(n), bytes, { sync: true });
    },
  );
  await db.close();
  await rm(folder, { recursive: true, force: true });
  return [
    figure(`saving one match, book of ${size.toLocaleString("en")}`, ours, {
      floor: { what: "one signature, one synced write", times: floor },
    }),
  ];
}

const fitting = (format: number): { score: [number, number] }[] => [{ score: [(format + 1) / 2, 2] }];
