/** A collection when it is asked for, under Node with no flag at its start. */
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

setFlagsFromString("--expose-gc");

export const collect = runInNewContext("gc") as () => void;

/** What other threads sweep after a collection is over by then: they would take their time from what is measured. */
const SWEPT_MS = 300;

export async function collected(): Promise<void> {
  collect();
  await new Promise((resolve) => setTimeout(resolve, SWEPT_MS));
}
