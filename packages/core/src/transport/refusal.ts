/**
 * Why an update is not applied, as data. Two different answers: a *refusal* (this is not something a member of the room may
 * write; sending it again changes nothing, the sender must rebuild its document) and a *gap* (nothing is wrong with it, but
 * something before it is missing; ask for what lies between). Every fact is a number or a word of ours, never bytes that a
 * hostile sender chose.
 */

/** The place of a struct: a Yjs client id and clock. */
export interface Place {
  readonly client: number;
  readonly clock: number;
}

export type UpdateRefusal =
  | { readonly type: "too-long"; readonly bytes: number; readonly limit: number }
  | { readonly type: "unreadable"; readonly at: number }
  | { readonly type: "trailing-bytes"; readonly bytes: number }
  | { readonly type: "empty-block"; readonly client: number }
  | { readonly type: "client-twice"; readonly client: number }
  | { readonly type: "too-many-clients"; readonly limit: number }
  | ({ readonly type: "foreign-struct"; readonly struct: "gc" | "skip" } & Place)
  | ({ readonly type: "foreign-content"; readonly content: ContentName } & Place)
  | ({ readonly type: "foreign-parent"; readonly parent: "root" | "item" } & Place)
  | ({ readonly type: "keyed" } & Place)
  | ({ readonly type: "bad-key" } & Place)
  | ({ readonly type: "not-at-the-end" } & Place)
  | ({ readonly type: "bad-envelope"; readonly fault: "short" | "long" | "version"; readonly bytes: number } & Place)
  | ({ readonly type: "circle" } & Place)
  | ({ readonly type: "deletion"; readonly length: number } & Place)
  | ({ readonly type: "unconnected"; readonly expected: number } & Place)
  | { readonly type: "room-full"; readonly bytes: number; readonly limit: number };

/** Content kinds of Yjs 13 updates, by reference number 1 to 9. */
export type ContentName = "deleted" | "json" | "binary" | "string" | "embed" | "format" | "type" | "any" | "doc";

/** The update begins or leans on structs of `client` from `expected` up to `clock`, which are not here yet. */
export interface Gap extends Place {
  readonly expected: number;
}
