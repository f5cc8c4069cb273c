/**
 * The door for whoever runs the relay, beside the one for callers: a socket in the data folder that only the folder's owner can open.
 * Through it a running relay, whose store nobody else may open, is backed up, restored into and checked. Rejected: the same over the
 * relay's port, which would need a password to keep, to lose and to guess.
 *
 *     GET /backup      the lines of a backup
 *     POST /restore    the lines of a backup; answers with what was done
 *     GET /check       a report
 */
import { chmod, mkdir, unlink } from "node:fs/promises";
import type { IncomingMessage, ServerResponse } from "node:http";
import { createServer } from "node:http";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { Readable } from "node:stream";
import { pipeline } from "node:stream/promises";
import type { Relay } from "../start.ts";
import type { Storage } from "../storage.ts";
import { BadBackup, backupLines, readBackup } from "./backup.ts";
import { checkStore } from "./check.ts";
import { restoreInto } from "./restore.ts";

export const controlSocket = (data: string): string => join(data, "control.sock");

/** Listens until `close`; makes the folder where there is none. Another relay's socket in it is taken over: its store cannot be open any more. */
export async function openControl(data: string, storage: Storage, relay: Relay): Promise<{ close(): Promise<void> }> {
  const path = controlSocket(data);
  await mkdir(data, { recursive: true });
  await unlink(path).catch(() => undefined);
  const server = createServer((request, response) => {
    answer(request, response, storage, relay).catch((cause: unknown) => {
      if (response.headersSent) response.destroy();
      else response.writeHead(500).end(JSON.stringify({ fault: String(cause) }));
    });
  });
  await new Promise<void>((done, failed) => {
    server.once("error", failed);
    server.listen(path, done);
  });
  await chmod(path, 0o600);
  return {
    close: () =>
      new Promise((done) => {
        server.close(() => done());
        server.closeAllConnections();
      }),
  };
}

async function answer(
  request: IncomingMessage,
  response: ServerResponse,
  storage: Storage,
  relay: Relay,
): Promise<void> {
  const what = `${request.method} ${request.url}`;
  const say = (status: number, value: unknown): void => {
    response.statusCode = status;
    response.end(JSON.stringify(value));
  };
  if (what === "GET /backup") return pipeline(Readable.from(backupLines(storage)), response);
  if (what === "GET /check") return say(200, await checkStore(storage));
  if (what !== "POST /restore") return say(404, { fault: "no such thing" });
  try {
    const lines = createInterface({ input: request, crlfDelay: Number.POSITIVE_INFINITY });
    const restored = await restoreInto(storage, relay.rooms, relay.limits, readBackup(lines));
    relay.letGo();
    say(200, restored);
  } catch (cause) {
    if (!(cause instanceof BadBackup)) throw cause;
    say(422, { fault: cause.fault });
  }
}
