/** The same durable log for the servers that bring none: one synced LevelDB batch for whatever came in while the last was written. */
import { ClassicLevel } from "classic-level";

export interface DurableLog {
  /** Resolves once it is on disk. */
  append(room: string, update: Uint8Array): Promise<void>;
  read(room: string): Promise<Uint8Array[]>;
  close(): Promise<void>;
}

export async function openDurableLog(folder: string): Promise<DurableLog> {
  const db = new ClassicLevel<string, Uint8Array>(folder, { valueEncoding: "view" });
  await db.open();
  let n = Date.now() * 1000;
  let waiting: { readonly key: string; readonly value: Uint8Array; readonly done: () => void }[] = [];
  let running = false;

  const run = async (): Promise<void> => {
    running = true;
    while (waiting.length > 0) {
      const taken = waiting;
      waiting = [];
      await db.batch(
        taken.map(({ key, value }) => ({ type: "put", key, value })),
        { sync: true },
      );
      for (const { done } of taken) done();
    }
    running = false;
  };
  return {
    append: (room, update) =>
      new Promise((done) => {
        n += 1;
        waiting.push({ key: `${room} ${String(n).padStart(20, "0")}`, value: update, done });
        if (!running) void run();
      }),
    read: (room) => db.values({ gte: `${room} `, lt: `${room}!` }).all(),
    close: () => db.close(),
  };
}
