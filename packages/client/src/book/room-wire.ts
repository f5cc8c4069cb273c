/** The wire of one of a book's rooms, with the room's own key to prove that we may enter. */
import type { RoomKind } from "@sward/core";
import { canonicalBytes, tokenType } from "@sward/core";
import type * as Y from "yjs";
import type { Signer } from "../keys/signer.ts";
import type { Wire } from "../wire/connection.ts";
import type { BookOptions } from "./options.ts";

export interface RoomToDial {
  readonly kind: RoomKind;
  readonly signer: Signer;
  readonly doc: Y.Doc;
  readonly dial: boolean;
}

/** Null when the device meets no relay. */
export function openRoomWire(
  { relay }: Pick<BookOptions, "relay">,
  { kind, signer, doc, dial }: RoomToDial,
): Wire | null {
  if (relay === null) return null;
  return relay.open({
    relay: relay.url,
    room: { kind, name: signer.key, sign: (claims) => signer.sign({ typ: tokenType }, canonicalBytes(claims)) },
    doc,
    deps: relay.deps,
    dial,
  });
}
