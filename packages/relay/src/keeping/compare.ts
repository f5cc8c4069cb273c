/**
 * Two stores that the same devices fill, or that one was restored from, laid side by side by what `check --json` says of each: neither
 * has to reach the other, and whoever compares needs no key. Rejected: relays that ask each other, which would need an account at each
 * other's door and could do nothing with the answer.
 */
import * as z from "zod";
import type { StoreReport } from "./check.ts";

const Contents = z.object({ state: z.string(), digest: z.string() });
/** As much of a report as is compared. */
export const OtherReport = z.object({ store: z.string(), contents: z.record(z.string(), Contents) });
export type OtherReport = z.infer<typeof OtherReport>;

export interface Comparison {
  /** Ids of the two stores. */
  readonly here: string;
  readonly there: string;
  /** Rooms that hold the same. */
  readonly same: number;
  /** Rooms of the same state that hold different things: no exchange of what is missing will ever mend them. */
  readonly diverged: readonly string[];
  /** Rooms of which one has what the other lacks, and those that only one has: devices carry it over when they come. */
  readonly behind: readonly string[];
}

export function compareReports(here: StoreReport, there: OtherReport): Comparison {
  const names = new Set([...Object.keys(here.contents), ...Object.keys(there.contents)]);
  const [diverged, behind]: [string[], string[]] = [[], []];
  let same = 0;
  for (const name of [...names].sort()) {
    const [one, other] = [here.contents[name], there.contents[name]];
    if (one === undefined || other === undefined || one.state !== other.state) behind.push(name);
    else if (one.digest !== other.digest) diverged.push(name);
    else same += 1;
  }
  return { here: here.store, there: there.store, same, diverged, behind };
}
