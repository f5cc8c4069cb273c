/**
 * Pairs of entries that somebody at this device has said are two people, so that it does not ask again. Kept by the browser beside the
 * record: it says nothing that counts, and two devices may well ask twice. Ids only, no names.
 */
import type { BookId, KeyId } from "@sward/core";
import * as z from "zod/mini";

interface Here {
  readonly id: BookId;
  readonly device: KeyId;
}

const Pairs = z.array(z.string());

const keyOf = ({ id, device }: Here): string => `sward/apart/${device}/${id}`;

/** What cannot be read is as if nothing had been said. */
export function readApart(storage: Pick<Storage, "getItem">, here: Here): ReadonlySet<string> {
  try {
    const read = Pairs.safeParse(JSON.parse(storage.getItem(keyOf(here)) ?? "[]"));
    return new Set(read.success ? read.data : []);
  } catch {
    return new Set();
  }
}

export function keepApart(storage: Pick<Storage, "getItem" | "setItem">, here: Here, pair: string): void {
  storage.setItem(keyOf(here), JSON.stringify([...readApart(storage, here), pair]));
}
