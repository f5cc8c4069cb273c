/** The store that the settings name: a folder of this relay's own, or the one that several relays share. */
import { mkdir, readFile } from "node:fs/promises";
import type { RelayConfig } from "./config.ts";
import { openJetStreamStorage } from "./jetstream-storage.ts";
import { openLevelStorage } from "./level-storage.ts";
import { connectNats } from "./nats-connection.ts";
import type { Storage } from "./storage.ts";

export interface OpenStorageDeps {
  readonly random: (bytes: number) => Uint8Array;
  /** A shared store was exchanged under us: the process must end and be started again. */
  readonly gone: (cause: string) => void;
}

/** Rejects with why it cannot be opened. */
export async function openStorage({ data, nats }: RelayConfig, { random, gone }: OpenStorageDeps): Promise<Storage> {
  if (nats === null) {
    await mkdir(data, { recursive: true });
    return openLevelStorage(data, random);
  }
  const { servers, name, replicas, tokenFile, caFile } = nats;
  const token = tokenFile === null ? null : (await readFile(tokenFile, "utf8")).trim();
  const connection = await connectNats({ servers, token, caFile });
  return openJetStreamStorage({ connection, name, replicas, random, gone });
}
