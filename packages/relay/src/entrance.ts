/**
 * What the two ways into a room share (the request for a nonce in `app.ts`, the challenge in `door.ts`): which room an address means, whom a
 * request comes from and how often he may ask, what he is to sign, and whether what he then brings is good.
 */
import type { IncomingMessage } from "node:http";
import type { NonceReply } from "@sward/core";
import { RoomKind, RoomName } from "@sward/core";
import type { RelayConfig } from "./config.ts";
import type { RelayEvent } from "./events.ts";
import type { Addresses } from "./limits/addresses.ts";
import { addressOf } from "./limits/addresses.ts";
import type { RoomKey } from "./storage.ts";
import type { DoorkeeperDeps, Turned } from "./token.ts";
import { createDoorkeeper } from "./token.ts";

export interface Entrance {
  /** The address of a caller, as far as it is known. */
  whence(request: IncomingMessage): string;
  /** Whether this address may have a nonce now. */
  mayAsk(address: string): boolean;
  /** What a token is made of. `host`: the name under which the caller came. */
  asked(key: RoomKey, host: string | undefined): NonceReply;
  /** Null: the token is good, and its nonce spent. */
  check(token: string | undefined, key: RoomKey): Turned | null;
}

export interface EntranceDeps extends DoorkeeperDeps {
  readonly config: Pick<RelayConfig, "others" | "proxies">;
  /** What this relay is called; may be filled in once the port is known. */
  readonly origins: readonly string[];
  readonly addresses: Addresses;
  readonly log: (event: RelayEvent) => void;
}

export function createEntrance(deps: EntranceDeps): Entrance {
  const { config, origins, addresses, log } = deps;
  const doorkeeper = createDoorkeeper(deps);
  const others = config.others.length === 0 ? {} : { others: [...config.others] };
  return {
    whence: ({ socket, headers }) => {
      const forwarded = headers["x-forwarded-for"];
      return addressOf(socket.remoteAddress, forwarded === undefined ? forwarded : String(forwarded), config.proxies);
    },
    mayAsk: (address) => {
      const may = addresses.mayDial(address);
      if (!may) log({ type: "limited", room: "", limit: "address-dials" });
      return may;
    },
    asked: (key, host) => ({ ...doorkeeper.nonce(key), relay: nameFor(origins, host), ...others }),
    check: (token, key) => doorkeeper.check(token, key, origins),
  };
}

/** The room that a path names, of itself or of its nonce; null if there can be none. */
export function roomKeyOf(path: string): RoomKey | null {
  const [, rooms, kind, room, nonce, ...more] = path.split("/");
  const read = { kind: RoomKind().safeParse(kind), room: RoomName().safeParse(room) };
  if (rooms !== "rooms" || !read.kind.success || !read.room.success) return null;
  if (more.length > 0 || (nonce !== undefined && nonce !== "nonce")) return null;
  return { kind: read.kind.data, room: read.room.data };
}

/** The name under which we were called, if it is one of ours. What a caller says of us is never believed beyond that. */
const nameFor = (origins: readonly string[], host: string | undefined): string =>
  origins.find((origin) => new URL(origin).host === host) ?? origins[0] ?? "";
