/**
 * What is told to everybody in a room of one write: the updates and, behind them, the receipt. Put into the bytes of WebSocket messages
 * once for all who hear the same, so that two hundred callers cost two hundred writes to a socket, of one buffer, and nothing else.
 *
 * Rejected: one message at a time through the WebSocket library. It makes a header for each message and caller, and hands every message
 * to the system by itself; the receipt alone doubled what a room of two hundred took, and its last caller waited for all of it.
 */
import { receiptFrame, updateFrame } from "@sward/core";
import type { Caller } from "./jobs.ts";

export interface News {
  /** In their order. */
  readonly updates: readonly Uint8Array[];
  readonly receipt: Uint8Array;
  /** All of them as they go over a socket that compresses nothing. */
  readonly wire: Uint8Array;
}

/** One accepted update and who sent it. */
export interface Passed {
  readonly caller: Caller;
  readonly update: Uint8Array;
}

/** Tells all callers of what was stored; nobody hears his own update again. */
export function tellNews(callers: Iterable<Caller>, passed: readonly Passed[], moved: Map<number, number>): void {
  const frames = passed.map(({ caller, update }) => ({ caller, frame: updateFrame(update) }));
  const receipt = receiptFrame(moved);
  const writers = new Set(passed.map(({ caller }) => caller));
  const newsFor = (who: Caller | null): News => {
    const updates = frames.filter(({ caller }) => caller !== who).map(({ frame }) => frame);
    return { updates, receipt, wire: messageBytes([...updates, receipt]) };
  };
  let forMost: News | null = null;
  for (const caller of callers) {
    const news: News = writers.has(caller) ? newsFor(caller) : (forMost ?? newsFor(null));
    if (!writers.has(caller)) forMost = news;
    if (caller.tell !== undefined) caller.tell(news);
    else for (const frame of [...news.updates, news.receipt]) caller.send(frame);
  }
}

/** Whole binary messages from a server: RFC 6455, 5.2 (https://www.rfc-editor.org/rfc/rfc6455#section-5.2). */
export function messageBytes(frames: readonly Uint8Array[]): Uint8Array {
  return Buffer.concat(frames.flatMap((frame) => [headOf(frame.length), frame]));
}

/** The last of a binary message and of it the only piece, not masked; then its length in the shortest of three forms. */
function headOf(length: number): Buffer {
  const longer = length < 126 ? 0 : length < 65_536 ? 2 : 8;
  const head = Buffer.alloc(2 + longer);
  head[0] = 0x82;
  head[1] = longer === 0 ? length : longer === 2 ? 126 : 127;
  if (longer === 2) head.writeUInt16BE(length, 2);
  if (longer === 8) head.writeBigUInt64BE(BigInt(length), 2);
  return head;
}
