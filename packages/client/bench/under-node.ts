/** The half of the benches that runs under Node: every stage of a start, the replay, saving, and what a book holds in memory. */
import { cpus } from "node:os";
import { benchAppend } from "./append.ts";
import type { HeldBook } from "./big-book.ts";
import { collected } from "./collect.ts";
import type { Figure } from "./measure.ts";
import { row } from "./measure.ts";
import type { Memory } from "./memory.ts";
import { measureMemory } from "./memory.ts";
import { inOwnProcess } from "./own-process.ts";
import { benchOneMatch, benchReplay } from "./replay.ts";
import { signedBook } from "./signed.ts";
import { benchStages } from "./stages.ts";
import { benchStart } from "./start.ts";

export interface UnderNode {
  /** Day, version and processors, as a sentence. */
  readonly machine: string;
  /** Figures of rows that grow. */
  readonly grown: readonly Figure[];
  readonly others: readonly Figure[];
  readonly memory: readonly Memory[];
  /** Not there in figures that were kept before it was measured. */
  readonly big?: HeldBook | null;
}

export const tell = (figures: readonly Figure[]): readonly Figure[] => {
  for (const one of figures) console.log(row(one));
  return figures;
};

export const machineHere = (quick: boolean): string =>
  `${new Date().toISOString().slice(0, 10)}, Node ${process.version}, ${cpus().length} x ${cpus()[0]?.model ?? "unknown"}${quick ? ", quick" : ""}.`;

export async function benchUnderNode(quick: boolean, full: boolean): Promise<UnderNode> {
  const grown: Figure[] = [];
  const memory: Memory[] = [];
  for (const size of quick ? [1_000, 10_000] : [1_000, 10_000, 30_000, 100_000]) {
    const signed = await signedBook(size);
    const runs = size > 30_000 || quick ? 3 : 5;
    const stages = tell(await benchStages(signed, runs));
    grown.push(...stages, ...tell(await benchStart(signed, stages, runs)));
    const held = await measureMemory(signed);
    memory.push(held);
    console.log(
      `memory for each of ${size}: ledger ${held.ledger} bytes, texts ${held.text}, document ${held.document}\n`,
    );
  }
  for (const size of quick ? [10_000, 100_000] : [1_000, 10_000, 30_000, 100_000, 1_000_000])
    grown.push(...tell(await benchReplay(size, size > 100_000 ? 3 : 5, collected)));

  const others: Figure[] = [];
  for (const size of quick ? [1_000] : [1_000, 30_000]) {
    others.push(...tell(await benchOneMatch(size, quick ? 50 : 200)));
    others.push(...tell(await benchAppend(size, quick ? 50 : 200)));
  }
  const big = full ? await inOwnProcess<HeldBook>("big-under-node.ts", 1_000_000) : null;
  if (big !== null) console.log(JSON.stringify(big));
  return { machine: machineHere(quick), grown, others, memory, big };
}
