/**
 * y-websocket's provider with everything taken out that we must decide ourselves. It still opens the socket, asks for what we
 * lack when it opens, and notices a silent one. What it may no longer do: apply anything (every frame comes to `onFrame`),
 * send updates of any length (a long one goes in pages), reconnect (each connection needs a token of its own), talk to other
 * tabs past the screen, or tell the room who is here.
 */
import type { Frame } from "@sward/core";
import { frameTypes, pagesOf, readFrame, updateFrame } from "@sward/core";
import { Awareness } from "y-protocols/awareness";
import { WebsocketProvider } from "y-websocket";
import type * as Y from "yjs";

export interface SocketHandlers {
  /** Null: not a frame of this protocol. Must not throw. */
  onFrame(frame: Frame | null): void;
  /** What was written here is on its way, all of it. Must not throw. */
  onSent(): void;
  /** The socket closed without our doing; null if it was silent for too long. Must not throw. */
  onClosed(event: { readonly code: number; readonly reason: string } | null): void;
}

export interface Socket {
  /** `server`: the relay's origin, with `ws:` or `wss:`. */
  open(server: string, token: string): void;
  /** Goes on with a socket that is open already, and on which the token was sent. */
  adopt(socket: WebSocket): void;
  /** Whether it was sent: only when the socket is open. */
  send(frame: Uint8Array): boolean;
  hangUp(): void;
  destroy(): Promise<void>;
}

/** Pages of what we send, in bytes; well under the least that a relay may be set to take. */
export const pageBytes = 48 * 1024;
/** How long the other side may take to close, in milliseconds. */
const closingMilliseconds = 2000;

/** The parts of the provider that its types call private, and one method that we silence. */
interface Inside {
  _updateHandler(update: Uint8Array, origin: unknown): void;
  _exitHandler(): void;
  disconnectBc(): void;
}

/** `room`: its path, without the slash before it. `origin`: the transaction origin of updates that must not be sent back. */
export function createSocket(
  room: string,
  doc: Y.Doc,
  origin: unknown,
  WebSocketClass: typeof WebSocket,
  handlers: SocketHandlers,
): Socket {
  // Awareness would tell everybody, every 15 seconds, which client id is here. The relay's own sign of life does instead.
  const awareness = new Awareness(doc);
  awareness.setLocalState(null);
  let adopted: WebSocket | null = null;
  const provider = new WebsocketProvider("ws://not-dialled-yet", room, doc, {
    connect: false,
    awareness,
    disableBc: true,
    maxBackoffTime: 0,
    shouldReconnect: () => false,
    // What a constructor returns is what `new` gives.
    WebSocketPolyfill: function dialled(address: string) {
      return adopted ?? new WebSocketClass(address);
    } as unknown as typeof WebSocket,
  });
  const inside = provider as unknown as Inside;
  doc.off("update", inside._updateHandler);
  // Says goodbye under the document's client id, which Yjs may have changed; then there is no such state and it throws.
  inside.disconnectBc = () => undefined;
  // One listener for each wire would set off Node's warning of a leak; it has nothing left to do.
  (globalThis as { process?: { off?(event: string, listener: () => void): void } }).process?.off?.(
    "exit",
    inside._exitHandler,
  );

  const receive = (_encoder: unknown, decoder: { readonly arr: Uint8Array }): void =>
    handlers.onFrame(readFrame(decoder.arr));
  provider.messageHandlers.length = 0;
  for (const type of Object.values(frameTypes)) provider.messageHandlers[type] = receive;

  let ours = false;
  const hangUp = (): void => {
    ours = true;
    provider.disconnect();
    ours = false;
  };
  provider.on("connection-close", (event) => {
    // Else the provider dials again by itself, with the token it used before.
    provider.shouldConnect = false;
    if (!ours) handlers.onClosed(event === null ? null : { code: event.code, reason: event.reason });
  });

  const send = (frame: Uint8Array): boolean => {
    if (!provider.wsconnected || provider.ws?.readyState !== 1) return false;
    provider.ws.send(frame as Uint8Array<ArrayBuffer>);
    return true;
  };
  const onUpdate = (update: Uint8Array, from: unknown): void => {
    if (from === origin) return;
    for (const page of pagesOf(update, pageBytes)) if (send(updateFrame(page))) handlers.onSent();
  };
  doc.on("update", onUpdate);

  return {
    open: (server, token) => {
      provider.serverUrl = server;
      provider.params = { token };
      provider.connect();
    },
    adopt: (opened) => {
      adopted = opened;
      provider.connect();
      adopted = null;
      opened.onopen?.(new Event("open"));
    },
    send,
    hangUp,
    destroy: async () => {
      const gone = closed(provider.ws);
      doc.off("update", onUpdate);
      ours = true;
      provider.destroy();
      awareness.destroy();
      await gone;
    },
  };
}

/** Resolves when the socket is closed, or has not managed to in good time. */
function closed(socket: WebSocket | null): Promise<void> {
  if (socket === null || socket.readyState === 3) return Promise.resolve();
  return new Promise((done) => {
    const late = setTimeout(done, closingMilliseconds);
    socket.addEventListener("close", () => {
      clearTimeout(late);
      done();
    });
  });
}
