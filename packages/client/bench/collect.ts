/** A collection when it is asked for, under Node with no flag at its start. */
import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

setFlagsFromString("--expose-gc");

export const collect = runInNewContext("gc") as () => void;
