/**
 * The order in which the structs of an update can be put into a document: each after those of its own client before it, and
 * after its origin. Yjs does the same while applying, but keeps what it cannot place in memory, without limit and without
 * telling anyone; so this is worked out before, and what cannot be placed is never handed to Yjs.
 *
 * Depth first with a stack of our own: each struct is placed once, and the stack holds a client at most once, so work is
 * proportional to the number of structs and a circle of origins is seen as one.
 */
import type { Place } from "./refusal.ts";
import type { Block, Struct } from "./update.ts";

/** Why a lane stopped: at its end, before a struct that must not be placed, at one whose origin is not to be had, in a circle. */
export type Stop =
  | { readonly type: "end" }
  | { readonly type: "held" }
  | { readonly type: "missing"; readonly origin: Place }
  | { readonly type: "circle" };

/** A block being placed. `upTo` is the index of the first struct that must not be placed. */
export interface Lane {
  readonly block: Block;
  readonly upTo: number;
  placed: number;
  stop: Stop | null;
}

/** `first`: structs before this index are in the document already. */
export const laneOf = (block: Block, first: number, upTo: number): Lane => ({ block, upTo, placed: first, stop: null });

/**
 * Places what can be placed, calling `onPlaced` for each struct in order. `next(client)` is the first clock that the document
 * lacks. Each lane ends with `placed` (how many of its structs are in the document then) and the reason why it stopped there.
 */
export function placeAll(
  lanes: ReadonlyMap<number, Lane>,
  next: (client: number) => number,
  onPlaced: (struct: Struct) => void,
): void {
  for (const start of lanes.values()) {
    const stack: Wait[] = [{ lane: start, clock: Number.POSITIVE_INFINITY }];
    const stacked = new Set<Lane>([start]);
    for (let top = stack.at(-1); top !== undefined; top = stack.at(-1)) {
      const need = advance(top, lanes, next, onPlaced);
      if (need !== null && !stacked.has(need.lane)) {
        stack.push(need);
        stacked.add(need.lane);
      } else {
        // Whoever is further down waits for what this lane has not reached yet, and this lane waits for them.
        if (need !== null) top.lane.stop = { type: "circle" };
        stack.pop();
        stacked.delete(top.lane);
      }
    }
  }
}

/** A lane and the clock it has to reach, and no further: past it, it may need whoever waits for it. */
interface Wait {
  readonly lane: Lane;
  readonly clock: number;
}

/** Places structs of one lane until it is there or stops; returns what it has to wait for, if that is why it does not go on. */
function advance(
  { lane, clock }: Wait,
  lanes: ReadonlyMap<number, Lane>,
  next: (client: number) => number,
  onPlaced: (struct: Struct) => void,
): Wait | null {
  const { structs } = lane.block;
  if (lane.stop !== null) return null;
  for (; lane.placed < lane.upTo; lane.placed += 1) {
    const struct = structs[lane.placed] as Struct;
    const { origin } = struct;
    if (struct.clock > clock) return null;
    if (origin !== null && origin.client === struct.client) {
      // Yjs does not check this, and fails half way through the update.
      if (origin.clock >= struct.clock) {
        lane.stop = { type: "circle" };
        return null;
      }
    } else if (origin !== null && origin.clock >= next(origin.client)) {
      const other = lanes.get(origin.client);
      if (other === undefined || !reaches(other, origin.clock)) {
        if (other?.stop === null) return { lane: other, clock: origin.clock };
        const held = other?.stop.type === "held" || other?.stop.type === "circle";
        lane.stop = held ? { type: "held" } : { type: "missing", origin };
        return null;
      }
    }
    onPlaced(struct);
  }
  lane.stop = lane.upTo < structs.length ? { type: "held" } : { type: "end" };
  return null;
}

function reaches(lane: Lane, clock: number): boolean {
  const last = lane.block.structs[lane.placed - 1];
  return last !== undefined && last.clock + last.length > clock;
}
