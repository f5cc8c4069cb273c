/**
 * What a shared store is called. Who finds it without a name gives it one, and of several who do so at the same moment the first in the
 * log has done it; a new name is given over the old one, by the same rule as a roster's states (`standing.ts`). A relay that finds the
 * store to be another than it was knows nothing that still holds, and says that it must end.
 */
import type { Log } from "./jetstream-log.ts";
import { createJoiner, encodeRecord } from "./log-record.ts";
import { createStanding } from "./standing.ts";

export interface StoreIdentity {
  id(): string;
  /** Gives the store another id. */
  renew(): Promise<void>;
  /** Looks whether the store is still the one it was. Never rejects: a server that cannot say is not one that says no. */
  check(): Promise<void>;
}

/** More than any id. */
const longest = 1000;

export async function openIdentity(
  log: Log,
  subject: string,
  random: (bytes: number) => Uint8Array,
  gone: (cause: string) => void,
): Promise<StoreIdentity> {
  const read = async (): Promise<{ id: string; at: number }> => {
    const standing = createStanding();
    const joiner = createJoiner();
    let id = "";
    for await (const { seq, data } of log.read(subject)) {
      const record = joiner.take(data, seq);
      if (record !== null && standing.take(record, seq)) id = Buffer.from(record.updates[0] ?? []).toString("utf8");
    }
    return { id, at: standing.at() };
  };
  /** Ids of this store that we know to be right: the present one, and one that we are just giving. */
  let ours: readonly string[] = [];
  const give = async (over: number): Promise<void> => {
    const made = Buffer.from(random(16)).toString("base64url");
    ours = [...ours, made];
    for (const part of encodeRecord({ form: "replaces", over, updates: [Buffer.from(made, "utf8")] }, longest))
      await log.publish(subject, part, made);
    ours = [(await read()).id];
  };
  const found = await read();
  if (found.id === "") await give(0);
  else ours = [found.id];
  return {
    id: () => ours[0] ?? "",
    renew: async () => give((await read()).at),
    check: async () => {
      const now = await read().then(
        ({ id }) => id,
        (cause: unknown) => (/stream not found/.test(String(cause)) ? "" : null),
      );
      if (now !== null && !ours.includes(now)) gone("the store is another one than it was, or has another id");
    },
  };
}
