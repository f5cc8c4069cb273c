/** What a relay tells its operator, as data; `main.ts` decides how it is written. No token, nonce or content is ever in one. */
import type { UpdateRefusal } from "@sward/core";

export type Limit =
  | "address-connections"
  | "address-dials"
  | "relay-connections"
  | "room-connections"
  | "connection-rate"
  | "room-rate"
  | "unsent-bytes"
  | "history-stalled";

export type RelayEvent =
  | { readonly type: "listening"; readonly url: string; readonly store: string }
  | { readonly type: "turned-away"; readonly room: string; readonly code: number; readonly reason: string }
  | { readonly type: "refused"; readonly room: string; readonly refusal: UpdateRefusal }
  | { readonly type: "not-stored"; readonly room: string; readonly cause: string }
  | { readonly type: "room-unreadable"; readonly room: string; readonly cause: string }
  | { readonly type: "tidied"; readonly room: string; readonly writes: number }
  | { readonly type: "not-tidied"; readonly room: string; readonly cause: string }
  /** A caller met a limit; `room` is empty where it is not about one. */
  | { readonly type: "limited"; readonly room: string; readonly limit: Limit }
  | { readonly type: "draining"; readonly connections: number }
  | { readonly type: "store-gone"; readonly cause: string }
  | { readonly type: "fault"; readonly cause: string }
  | { readonly type: "stopped" };
