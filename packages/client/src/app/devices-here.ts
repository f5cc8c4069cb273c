/** Which devices this browser is, as a signal, and how it becomes one more. */
import { signal } from "@preact/signals";
import type { Pass } from "../desk/pass.ts";
import type { KeptPass } from "./passes.ts";
import { keepPass, listPasses } from "./passes.ts";

/** Null until read. */
export const passes = signal<readonly KeptPass[] | null>(null);

export async function readDevices(): Promise<void> {
  passes.value = await listPasses();
}

/** Durable when it resolves. */
export async function becomeDevice(pass: Pass): Promise<KeptPass> {
  const kept = await keepPass(pass);
  await readDevices();
  return kept;
}
