/**
 * The meeting room of an invitation at the relay: a room of the ledger kind, named by a key that only the link gives. Asks and answers lie
 * in it as sealed envelopes; the relay sees a small room used by two. Nothing is kept on the device: both sides put in again what they
 * have to say and the room has not, so a wiped relay or a page closed too early costs a little time.
 */
import * as Y from "yjs";
import type { SeenUpTo } from "../book/ledger-doc.ts";
import { markSeen, pushEnvelopes, unseenEnvelopes } from "../book/ledger-doc.ts";
import type { BookOptions } from "../book/options.ts";
import { openRoomWire } from "../book/room-wire.ts";
import type { Connection } from "../wire/connection.ts";
import type { InvitationKeys } from "./invitation.ts";
import { openParcel, sealParcel } from "./parcels.ts";

export interface Meeting {
  /** Everything that lies in the room and opens, each text once. */
  texts(): readonly string[];
  /** Sees to it that this text is in the room, now or when the relay is met. */
  say(text: string): void;
  /** Whether the relay has stored all that was said from here. */
  allStored(): boolean;
  connection(): Connection;
  /** Called after every change; returns the way to stop. */
  subscribe(listener: () => void): () => void;
  close(): Promise<void>;
}

export interface MeetingDeps {
  readonly relay: NonNullable<BookOptions["relay"]>;
  readonly randomBytes: (count: number) => Uint8Array;
}

/** Texts read at most: whoever has the link could fill the room. */
const MOST_TEXTS = 200;

export function openMeeting(keys: InvitationKeys, { relay, randomBytes }: MeetingDeps): Meeting {
  const doc = new Y.Doc();
  const seen: SeenUpTo = new Map();
  const texts = new Set<string>();
  const toSay = new Set<string>();
  const said = new Map<string, number>();
  const listeners = new Set<() => void>();
  let closed = false;
  let queue: Promise<unknown> = Promise.resolve();

  const tell = (): void => {
    for (const listener of listeners) listener();
  };
  const inTurn = (run: () => Promise<void>): void => {
    queue = queue.then(async () => (closed ? undefined : run())).catch(() => undefined);
  };

  async function read(): Promise<void> {
    for (const { place, envelope } of unseenEnvelopes(doc, seen)) {
      markSeen(seen, place);
      if (texts.size >= MOST_TEXTS) continue;
      const opened = await openParcel(keys, envelope);
      if (opened.ok) texts.add(opened.value);
    }
    tell();
  }

  async function speak(): Promise<void> {
    for (const text of toSay) {
      if (said.has(text) || texts.has(text)) continue;
      const [place] = pushEnvelopes(doc, [await sealParcel(keys, text, randomBytes)]);
      if (place === undefined) throw new Error("one envelope has one place");
      markSeen(seen, place);
      said.set(text, place.clock);
    }
  }

  const wire = openRoomWire({ relay }, { kind: "ledger", signer: keys.room, doc, dial: true });
  if (wire === null) throw new Error("a meeting needs a relay");
  const isSynced = (): boolean => {
    const state = wire.state();
    return state.type === "live" && state.synced;
  };
  const allStored = (): boolean => {
    const stored = wire.stored().get(doc.clientID) ?? 0;
    return [...toSay].every((text) => texts.has(text) || (said.get(text) ?? Number.POSITIVE_INFINITY) < stored);
  };
  doc.on("update", (_update: Uint8Array, _origin: unknown, _doc: Y.Doc, transaction: Y.Transaction) => {
    if (!transaction.local) inTurn(read);
  });
  wire.subscribe(() => {
    // What the room has already is not said twice: only once all of it was read is it known.
    if (isSynced()) inTurn(async () => read().then(speak));
    tell();
  });
  wire.onStored(tell);

  return {
    texts: () => [...texts],
    say(text) {
      toSay.add(text);
      if (isSynced()) inTurn(speak);
    },
    allStored,
    connection: () => wire.state(),
    subscribe(listener) {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    async close() {
      closed = true;
      await wire.close();
      await queue;
      doc.destroy();
    },
  };
}
