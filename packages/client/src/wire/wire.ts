/**
 * Keeps one document and one room in step: dials with a fresh token, screens all that comes, sends what the relay lacks, counts
 * what the relay has stored, and waits with growing, jittered pauses when it cannot. Jitter because two hundred devices that
 * lost the same relay would otherwise come back in step and bring it down again.
 *
 *     offline -> connecting -> live        connecting -> connecting (next try)        any -> refused, closed
 */
import type { Frame, StateVector } from "@sward/core";
import {
  askFrame,
  awarenessFrame,
  closeCodes,
  historyFrame,
  mayRedial,
  pagesOf,
  protocolVersion,
  readStateVector,
  roomPath,
} from "@sward/core";
import * as Y from "yjs";
import type { Connection, OpenWire, Wire, WireFault, WireRefusal } from "./connection.ts";
import { createEntering } from "./entering.ts";
import { createOwnPlaces } from "./own-places.ts";
import { createRelays } from "./relays.ts";
import { decodeSaying, encodeSaying } from "./saying.ts";
import { applyScreened } from "./screen.ts";
import { createSocket, pageBytes } from "./socket.ts";

/** First pause after a failed try, in milliseconds; doubled with each further one. */
const firstPause = 500;
const longestPause = 30_000;
/** How long a relay may take to answer a request for a nonce, and then to say hello, in milliseconds. */
const patience = 15_000;
/** About how often we ask for what we lack and send what the relay lacks, though nothing seems amiss, in milliseconds. */
const tendEvery = 60_000;
const mostRefusals = 100;

/** Opens a wire; it dials by itself unless `dial` is false. Never throws. */
export const openWire: OpenWire = (options) => {
  const { doc, room } = options;
  // Called by these names alone: a browser's own refuse to be called as methods of something else.
  const { fetch, WebSocket, random, setTimeout, clearTimeout } = options.deps;
  const enter = createEntering(room, { fetch, WebSocket });
  const relays = createRelays(options.relay, options.deps.others);
  const listeners = new Set<() => void>();
  const storedListeners = new Set<(stored: StateVector) => void>();
  const saidListeners = new Set<(bytes: Uint8Array) => void>();
  const own = createOwnPlaces(doc);
  let sayings = 0;
  let connection: Connection = { type: "offline" };
  let stored: StateVector = new Map();
  /** What this connection has told us is stored; it may come before the relay's name does. */
  let told: StateVector = new Map();
  let storeId: string | null = null;
  let refusals: readonly WireRefusal[] = [];
  /** How many tries since the last time that all was in step; and which one is going on, so that a late answer is dropped. */
  let attempt = 0;
  let turn = 0;
  let timer: unknown = null;
  let asking: AbortController | null = null;

  const changed = (): void => {
    for (const listener of listeners) listener();
  };
  const become = (next: Connection): void => {
    connection = next;
    changed();
  };
  const setStored = (next: StateVector): void => {
    stored = next;
    for (const listener of storedListeners) listener(stored);
  };
  const wait = (milliseconds: number, run: () => void): void => {
    clearTimeout(timer);
    timer = setTimeout(run, milliseconds);
  };

  /** Whether somebody outside has ended it, perhaps while a frame was being handled; then a failure starts nothing anew. */
  const isOver = (): boolean => connection.type === "closed" || connection.type === "offline";

  /** Ends whatever is going on. */
  const stop = (): void => {
    turn += 1;
    clearTimeout(timer);
    asking?.abort();
    socket.hangUp();
  };
  const refused = (code: number, reason: string): void => {
    if (isOver()) return;
    stop();
    become({ type: "refused", code, reason });
  };
  const retry = (fault: WireFault): void => {
    if (isOver()) return;
    stop();
    relays.next();
    const longest = Math.min(options.maxBackoff ?? longestPause, firstPause * 2 ** Math.min(attempt - 1, 20));
    const next = Math.round(longest * (0.5 + random() / 2));
    become({ type: "connecting", attempt, next, fault });
    wait(next, () => void dial());
  };

  const dial = async (): Promise<void> => {
    stop();
    const mine = turn;
    const fault = connection.type === "connecting" ? connection.fault : null;
    attempt += 1;
    told = new Map();
    become({ type: "connecting", attempt, next: null, fault });
    wait(patience, () => retry({ type: "no-answer", after: patience }));
    asking = new AbortController();
    const origin = relays.current();
    const entered = await enter(origin, asking.signal);
    if (mine !== turn) {
      if (entered.ok && "socket" in entered.value) entered.value.socket.close();
    } else if (entered.ok) {
      relays.learn(entered.value.others);
      if ("socket" in entered.value) socket.adopt(entered.value.socket);
      else socket.open(origin.replace(/^http/, "ws"), entered.value.token);
    } else if (entered.fault.type === "other-name") refused(closeCodes.wrongToken, "relay-has-another-name");
    else if (entered.fault.type === "cannot-sign") refused(closeCodes.wrongToken, "cannot-sign");
    else if (entered.fault.type === "ended") ended(entered.fault);
    else retry(entered.fault);
  };
  const ended = ({ code, reason }: { readonly code: number; readonly reason: string }): void => {
    if (mayRedial(code)) retry({ type: "closed", code });
    else refused(code, reason);
  };

  /** Sends what this state lacks. */
  const sendSince = (vector: Uint8Array): void => {
    for (const page of pagesOf(Y.encodeStateAsUpdate(doc, vector), pageBytes)) {
      if (socket.send(historyFrame(page))) own.sent();
    }
  };
  const answer = (vector: Uint8Array): void => {
    if (own.stored(readStateVector(vector) ?? new Map())) changed();
    sendSince(vector);
  };
  const ask = (): boolean => socket.send(askFrame(Y.encodeStateVector(doc)));
  const tend = (): void => {
    ask();
    if (lacks(stored, doc)) sendSince(Y.encodeStateVector(new Map(stored)));
    wait(tendEvery * (0.75 + random() / 2), tend);
  };

  const note = (by: WireRefusal["by"], found: readonly WireRefusal["refusal"][]): void => {
    if (found.length === 0) return;
    refusals = [...refusals, ...found.map((refusal) => ({ by, refusal }))].slice(-mostRefusals);
    changed();
  };

  const take = (frame: Extract<Frame, { update: Uint8Array }>): void => {
    if (own.arriving(frame.update)) changed();
    const { refusals: found, gap } = applyScreened(doc, room.kind, frame.update, "salvage", wire);
    note("us", found);
    if (gap !== null && found.length === 0) {
      // A page was made for what we have; asking again would bring it again.
      if (frame.type === "update") ask();
      else note("us", [{ type: "unconnected", ...gap }]);
    }
    if (frame.type === "history" && connection.type === "live" && !connection.synced) {
      attempt = 0;
      become({ type: "live", synced: true });
    }
  };

  const greet = (version: number, store: string): void => {
    if (version !== protocolVersion) {
      refused(closeCodes.badMessage, "protocol-version");
      return;
    }
    if (storeId !== store) {
      storeId = store;
      setStored(told);
    }
    if (connection.type === "live") return;
    become({ type: "live", synced: false });
    wait(tendEvery * (0.75 + random() / 2), tend);
  };

  const receipted = (moved: StateVector): void => {
    told = furthest(told, moved);
    if (own.stored(moved)) changed();
    setStored(furthest(stored, moved));
  };

  const hear = (state: Uint8Array): void => {
    const bytes = decodeSaying(state);
    if (bytes !== null) for (const listener of saidListeners) listener(bytes);
  };

  const handle = (frame: Frame | null): void => {
    if (frame === null) retry({ type: "not-a-relay" });
    else if (frame.type === "hello") greet(frame.version, frame.store);
    else if (frame.type === "ask") answer(frame.vector);
    else if (frame.type === "history" || frame.type === "update") take(frame);
    else if (frame.type === "awareness") hear(frame.state);
    else if (frame.type === "receipt") receipted(frame.stored);
    else if (frame.type === "refusal") note("relay", [frame.refusal]);
  };

  const wire: Wire = {
    state: () => connection,
    stored: () => stored,
    storeId: () => storeId,
    refusals: () => refusals,
    taken: own.taken,
    subscribe: (listener) => {
      listeners.add(listener);
      return () => listeners.delete(listener);
    },
    onStored: (listener) => {
      storedListeners.add(listener);
      return () => storedListeners.delete(listener);
    },
    say: (bytes) => {
      sayings += 1;
      socket.send(awarenessFrame(encodeSaying(doc.clientID, sayings, bytes)));
    },
    onSaid: (listener) => {
      saidListeners.add(listener);
      return () => saidListeners.delete(listener);
    },
    pause: () => {
      if (connection.type === "closed" || connection.type === "offline") return;
      stop();
      become({ type: "offline" });
    },
    resume: () => {
      const busy = connection.type === "live" || (connection.type === "connecting" && connection.next === null);
      if (busy || connection.type === "closed") return;
      attempt = 0;
      void dial();
    },
    close: async () => {
      if (connection.type === "closed") return;
      turn += 1;
      clearTimeout(timer);
      asking?.abort();
      become({ type: "closed" });
      doc.off("update", onWritten);
      await socket.destroy();
    },
  };
  const onWritten = (_update: Uint8Array, from: unknown): void => {
    if (from !== wire && room.kind === "ledger") own.wrote();
  };
  // Before the socket's own listener, which sends.
  doc.on("update", onWritten);
  const socket = createSocket(roomPath(room.kind, room.name).slice(1), doc, wire, WebSocket, {
    onSent: own.sent,
    onFrame: (frame) => {
      try {
        handle(frame);
      } catch (cause) {
        retry({ type: "defect", cause: String(cause) });
      }
    },
    onClosed: (event) => {
      if (event === null) retry({ type: "no-answer", after: patience });
      else ended(event);
    },
  });
  if (options.dial !== false) void dial();
  return wire;
};

/** Whether the document has structs that are not stored. */
const lacks = (stored: StateVector, doc: Y.Doc): boolean =>
  [...Y.decodeStateVector(Y.encodeStateVector(doc))].some(([client, clock]) => (stored.get(client) ?? 0) < clock);

/** Receipts name the clients that moved; what was stored once stays stored. */
function furthest(stored: StateVector, moved: StateVector): StateVector {
  const next = new Map(stored);
  for (const [client, clock] of moved) next.set(client, Math.max(clock, next.get(client) ?? 0));
  return next;
}
