/**
 * `@hocuspocus/server`, a general server of Yjs documents, in its newest release that runs on Node 20. What it is to keep goes into the same
 * durable log before it is applied and passed on, in the one hook that it waits for: so all servers promise the same of what others see.
 */
import type { AddressInfo } from "node:net";
import { Server } from "@hocuspocus/server";
import * as decoding from "lib0/decoding";
import * as Y from "yjs";
import { openDurableLog } from "./durable-log.ts";
import { folderGiven, serveParent } from "./server-process.ts";

const { folder, port } = folderGiven();
const log = await openDurableLog(folder);
const server = new Server({
  port,
  address: "127.0.0.1",
  quiet: true,
  stopOnSignals: false,
  onLoadDocument: async ({ document, documentName }) => {
    for (const update of await log.read(documentName)) {
      try {
        Y.applyUpdate(document, update);
      } catch {
        // Nonsense is refused when it is applied, which is after it was kept.
      }
    }
  },
  beforeHandleMessage: async ({ documentName, update: message }) => {
    const decoder = decoding.createDecoder(message);
    decoding.readVarString(decoder);
    if (decoding.readVarUint(decoder) !== 0 || decoding.readVarUint(decoder) === 0) return;
    const update = decoding.readVarUint8Array(decoder);
    if (update.length > 2) await log.append(documentName, update);
  },
});
await server.listen();
serveParent((server.httpServer.address() as AddressInfo).port, async () => {
  await server.destroy();
  await log.close();
});
