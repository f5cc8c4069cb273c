/** Of the connections of several books the one that most needs saying: a refused book before a paused one before a live one. */
import type { Connection } from "../wire/connection.ts";

const furthest: readonly Connection["type"][] = ["live", "connecting", "offline", "closed", "refused"];

export function leastConnected(all: readonly Connection[]): Connection {
  const [first = { type: "closed" } as const, ...rest] = all;
  return rest.reduce((worst, one) => (rank(one) > rank(worst) ? one : worst), first);
}

/** Live but still reading is less than live. */
const rank = (connection: Connection): number =>
  2 * furthest.indexOf(connection.type) + (connection.type === "live" && !connection.synced ? 1 : 0);
