/** A WebSocket class for one device's life, as `y-websocket` uses one, over the simulated network. */
import type { Life } from "./disks.ts";
import type { Path } from "./network.ts";

/** `label`: a name for the connections of this wire, the same in every run. */
export function socketsOn(path: Path, life: Life, label: string): typeof WebSocket {
  class SimulatedSocket {
    static readonly OPEN = 1;
    readonly OPEN = 1;
    binaryType = "arraybuffer";
    readyState = 0;
    onopen: (() => void) | null = null;
    onmessage: ((event: { data: ArrayBuffer }) => void) | null = null;
    onclose: ((event: { code: number; reason: string }) => void) | null = null;
    onerror: ((event: unknown) => void) | null = null;
    readonly #closing: (() => void)[] = [];
    readonly #wired;

    constructor(address: string) {
      this.#wired = path.call(
        label,
        address,
        {
          open: () => {
            this.readyState = 1;
            this.onopen?.();
          },
          receive: (frame) => this.onmessage?.({ data: frame.buffer as ArrayBuffer }),
          closed: (code, reason) => {
            this.readyState = 3;
            this.onclose?.({ code, reason });
            for (const listener of this.#closing) listener();
          },
        },
        life,
      );
    }

    send(frame: Uint8Array): void {
      this.#wired.send(frame.slice());
    }

    close(): void {
      this.readyState = 3;
      this.#wired.close(1000, "");
      for (const listener of this.#closing) listener();
    }

    addEventListener(_type: "close", listener: () => void): void {
      this.#closing.push(listener);
    }
  }
  return SimulatedSocket as unknown as typeof WebSocket;
}
