/**
 * Reads a Yjs update (format 1, Yjs 13) into plain facts, without Yjs. What Yjs itself would read is what is read here, down to
 * which bits of the info byte matter; `tests/core/transport/agreement.test.ts` holds the two together on honest, hostile and
 * random bytes. Contents that no room may hold are stepped over rather than read, so that one of them costs its own block and
 * not the whole update.
 *
 * Rejected: `Y.decodeUpdate` handed in. It builds an object for every struct before anything is judged, does not say whether
 * bytes remain, and needs `instanceof` on classes, which two copies of Yjs in one bundle break.
 *
 *     update  = uint(blocks) block*  deletions
 *     block   = uint(structs) uint(client) uint(clock) struct*
 *     struct  = info ...             info: low 5 bits what, 0x80 origin, 0x40 right origin, 0x20 key
 *     deletions = uint(clients) ( uint(client) uint(ranges) ( uint(clock) uint(length) )* )*
 */
import type { Cursor } from "./bytes.ts";
import { cursorOn, readAscii, readByte, readUint, skipBytes } from "./bytes.ts";
import type { ContentName, Place, UpdateRefusal } from "./refusal.ts";

/**
 * The facts of one struct. `start` and `end` are its bytes in the update. Of what a binary content holds only its length and its first
 * byte are told, 0 where there is none: a view of it for each of a hundred thousand would be made for nothing.
 */
export interface Struct extends Place {
  readonly form: "item" | "gc" | "skip";
  /** How many clocks it takes up. */
  readonly length: number;
  readonly origin: Place | null;
  readonly rightOrigin: Place | null;
  /** Where it says it hangs: a root by name, inside another item, or (with an origin) where its origin hangs. */
  readonly parent: { readonly root: string | null } | "item" | "origin";
  readonly keyed: boolean;
  /** The key in a map; null if none is written, or if it is not 1 to 128 printable ASCII characters. */
  readonly key: string | null;
  readonly content: ContentName;
  readonly bytes: number;
  readonly firstByte: number;
  readonly start: number;
  readonly end: number;
}

/** Structs of one client, in the order of their clocks and without a hole. */
export interface Block {
  readonly client: number;
  readonly structs: readonly Struct[];
}

export interface Deletion extends Place {
  readonly length: number;
}

export interface ReadUpdate {
  readonly bytes: Uint8Array;
  readonly blocks: readonly Block[];
  readonly deletions: readonly Deletion[];
}

/** Longest root name or key that is read at all. */
const longestName = 128;
/** Deepest nesting of a plain value that is stepped over. */
const deepestValue = 32;
const contentNames: readonly (ContentName | undefined)[] = [
  undefined,
  "deleted",
  "json",
  "binary",
  "string",
  "embed",
  "format",
  "type",
  "any",
  "doc",
];

/** Never throws; work and memory are bounded by the number of bytes. */
export function readUpdate(bytes: Uint8Array): ReadUpdate | UpdateRefusal {
  const cursor = cursorOn(bytes);
  const blocks: Block[] = [];
  for (let left = readUint(cursor); left > 0 && !cursor.failed; left -= 1) blocks.push(readBlock(cursor));
  const deletions = readDeletions(cursor);
  if (cursor.failed) return { type: "unreadable", at: cursor.at };
  if (cursor.at < bytes.length) return { type: "trailing-bytes", bytes: bytes.length - cursor.at };
  return { bytes, blocks, deletions };
}

/** A view of what a binary content of this update holds. */
export const contentOf = (update: Uint8Array, { bytes, end }: Struct): Uint8Array => update.subarray(end - bytes, end);

function readBlock(cursor: Cursor): Block {
  const count = readUint(cursor);
  const client = readUint(cursor);
  let clock = readUint(cursor);
  // A Yjs client id has 32 bits, and a clock past 2^52 can no longer be counted on exactly.
  if (client > 0xffffffff || clock > 2 ** 52) cursor.failed = true;
  const structs: Struct[] = [];
  for (let left = count; left > 0 && !cursor.failed; left -= 1) {
    const struct = readStruct(cursor, client, clock);
    structs.push(struct);
    clock += struct.length;
    if (clock > 2 ** 52 || struct.length === 0) cursor.failed = true;
  }
  return { client, structs };
}

function readStruct(cursor: Cursor, client: number, clock: number): Struct {
  const start = cursor.at;
  const info = readByte(cursor);
  const what = info & 0x1f;
  if (what === 0 || what === 10) {
    const length = readUint(cursor);
    const form = what === 0 ? "gc" : "skip";
    return {
      client,
      clock,
      form,
      length,
      origin: null,
      rightOrigin: null,
      parent: "origin",
      keyed: false,
      key: null,
      content: "deleted",
      bytes: 0,
      firstByte: 0,
      start,
      end: cursor.at,
    };
  }
  const origin = info & 0x80 ? readPlace(cursor) : null;
  const rightOrigin = info & 0x40 ? readPlace(cursor) : null;
  const keyed = (info & 0x20) !== 0;
  let parent: Struct["parent"] = "origin";
  let key: string | null = null;
  if (origin === null && rightOrigin === null) {
    parent = readParent(cursor);
    if (keyed) key = readAscii(cursor, longestName);
  }
  const content = contentNames[what];
  const length = content === "deleted" ? readUint(cursor) : 1;
  const bytes = content === "binary" ? skipString(cursor) : 0;
  if (content !== "binary" && content !== "deleted") skipContent(cursor, content);
  return {
    client,
    clock,
    form: "item",
    length,
    origin,
    rightOrigin,
    parent,
    keyed,
    key: key === "" ? null : key,
    content: content ?? "deleted",
    bytes,
    firstByte: bytes > 0 ? (cursor.bytes[cursor.at - bytes] as number) : 0,
    start,
    end: cursor.at,
  };
}

const readPlace = (cursor: Cursor): Place => ({ client: readUint(cursor), clock: readUint(cursor) });

function readParent(cursor: Cursor): Struct["parent"] {
  if (readUint(cursor) === 1) return { root: readAscii(cursor, longestName) };
  readPlace(cursor);
  return "item";
}

/** How long they are does not matter: nothing behind a foreign content is accepted. */
function skipContent(cursor: Cursor, content: Exclude<ContentName, "binary" | "deleted"> | undefined): void {
  switch (content) {
    case "json":
      for (let left = readUint(cursor); left > 0 && !cursor.failed; left -= 1) skipString(cursor);
      break;
    case "string":
    case "embed":
      skipString(cursor);
      break;
    case "format":
      skipString(cursor);
      skipString(cursor);
      break;
    case "type": {
      const type = readUint(cursor);
      // XML elements and hooks carry a name.
      if (type === 3 || type === 5) skipString(cursor);
      break;
    }
    case "any":
      for (let left = readUint(cursor); left > 0 && !cursor.failed; left -= 1) skipValue(cursor, deepestValue);
      break;
    case "doc":
      skipString(cursor);
      skipValue(cursor, deepestValue);
      break;
    default:
      cursor.failed = true;
  }
}

/** Steps over a byte string with its length before it; how many bytes it has, 0 on a failed cursor. */
function skipString(cursor: Cursor): number {
  const length = readUint(cursor);
  skipBytes(cursor, length);
  return cursor.failed ? 0 : length;
}

/** A plain value in lib0's encoding: a type byte from 116 to 127, then what that type has. */
function skipValue(cursor: Cursor, depth: number): void {
  if (depth === 0) cursor.failed = true;
  const type = readByte(cursor);
  if (cursor.failed) return;
  if (type === 125) while (readByte(cursor) >= 0x80);
  else if (type === 124) skipBytes(cursor, 4);
  else if (type === 123 || type === 122) skipBytes(cursor, 8);
  else if (type === 119 || type === 116) skipString(cursor);
  else if (type === 118 || type === 117) {
    for (let left = readUint(cursor); left > 0 && !cursor.failed; left -= 1) {
      if (type === 118) skipString(cursor);
      skipValue(cursor, depth - 1);
    }
  } else if (type !== 127 && type !== 126 && type !== 121 && type !== 120) cursor.failed = true;
}

function readDeletions(cursor: Cursor): Deletion[] {
  const deletions: Deletion[] = [];
  for (let clients = readUint(cursor); clients > 0 && !cursor.failed; clients -= 1) {
    const client = readUint(cursor);
    for (let left = readUint(cursor); left > 0 && !cursor.failed; left -= 1) {
      deletions.push({ client, clock: readUint(cursor), length: readUint(cursor) });
    }
  }
  return cursor.failed ? [] : deletions;
}
