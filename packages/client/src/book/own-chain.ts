/**
 * Whether this device may go on with its own chain. One key must write from one place: two would each continue the chain and fork
 * it, and a forked device counts no further. So a device that comes with an empty vault (a wiped browser, an address opened a second
 * time) writes nothing until it has read what the relay has of it, however often it is ended meanwhile: some of a chain in the vault is
 * no better than none (`unread` there). One that sees an entry of its own arrive while it is in step knows that its key is at work
 * elsewhere; and one whose chain has forked stops, for whatever it wrote would not count.
 *
 * Rejected: writing at once and sorting it out later (a fork cannot be taken back) and a lock at the relay (there is none offline).
 */
import type { Arrival, BookState, KeyId } from "@sward/core";
import type { HaltFault } from "./faults.ts";

export interface OwnChain {
  /** Null when the device may write. */
  fault(state: BookState): HaltFault | null;
  /** Everything the relay had has been taken in. */
  metRelay(): void;
  /** Entries this device did not hold before. */
  came(arrivals: readonly Arrival[]): void;
  caughtUp(): boolean;
}

/** Remembers, for longer than a book is open, that the key is in use elsewhere: it does not stop being so with a reload. */
export interface SharedKeyMark {
  is(): boolean;
  note(): void;
}

const forAsLongAsOpen = (): SharedKeyMark => {
  let noted = false;
  return {
    is: () => noted,
    note() {
      noted = true;
    },
  };
};

/**
 * `knowsItself`: nothing of this device can be anywhere that is not here: its vault has the record and is not still being filled, there is
 * no relay, or its key was made a moment ago.
 */
export function createOwnChain(
  device: KeyId,
  knowsItself: boolean,
  elsewhere: SharedKeyMark = forAsLongAsOpen(),
): OwnChain {
  let caughtUp = knowsItself;
  let inStep = false;
  return {
    fault(state) {
      if (!caughtUp) return { type: "not-caught-up" };
      if (elsewhere.is()) return { type: "used-elsewhere" };
      const forkedAt = state.devices.get(device)?.forkedAt ?? null;
      return forkedAt === null ? null : { type: "forked", seq: forkedAt };
    },
    metRelay() {
      caughtUp = true;
      inStep = true;
    },
    came(arrivals) {
      // Before the first meeting they are this device's own from before; afterwards nobody else should be writing them.
      if (inStep && arrivals.some(({ entry }) => entry.author === device)) elsewhere.note();
    },
    caughtUp: () => caughtUp,
  };
}
