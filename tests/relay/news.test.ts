/** What is told to a whole room goes past the WebSocket library in bytes made here; a client of that library must read them the same. */
import { once } from "node:events";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import type { Duplex } from "node:stream";
import { readFrame } from "@sward/core";
import { expect, test } from "vitest";
import { WebSocket, WebSocketServer } from "ws";
import type { News } from "../../packages/relay/src/news.ts";
import { messageBytes, tellNews } from "../../packages/relay/src/news.ts";
import { until } from "../support/meeting.ts";

/** A client and the two ways of sending to it: by the library, and by the stream below it. */
async function meeting() {
  const server = createServer();
  const sockets = new WebSocketServer({ server });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const met = once(sockets, "connection");
  const client = new WebSocket(`ws://127.0.0.1:${(server.address() as AddressInfo).port}/`);
  const heard: { readonly bytes: Uint8Array; readonly binary: boolean }[] = [];
  client.on("message", (data: Buffer, binary) => heard.push({ bytes: new Uint8Array(data), binary }));
  const [socket, request] = (await met) as [WebSocket, { socket: Duplex }];
  const close = async (): Promise<void> => {
    client.terminate();
    sockets.close();
    await new Promise((closed) => server.close(closed));
  };
  return { socket, stream: request.socket, heard, client, close };
}

test("RL6 messages of every length arrive as they are, between those that the library sends", async () => {
  const { socket, stream, heard, client, close } = await meeting();
  const frames = [0, 1, 125, 126, 127, 65_535, 65_536, 200_000].map((length) =>
    Uint8Array.from({ length }, (_, at) => (at * 7 + length) & 255),
  );
  const [first, ...rest] = frames;
  socket.send(rest[0]!);
  stream.write(messageBytes(frames));
  socket.send(rest[2]!);
  await until("all heard", () => heard.length === frames.length + 2 || client.readyState === WebSocket.CLOSED);
  expect(heard.map(({ bytes }) => bytes)).toEqual([rest[0], first, ...rest, rest[2]]);
  expect(heard.every(({ binary }) => binary)).toBe(true);
  expect(client.readyState).toBe(WebSocket.OPEN);
  await close();
});

test("RL6 whoever wrote hears all but his own, whoever did not hears all, and the receipt comes last", () => {
  const told = new Map<string, string[]>();
  const named = (name: string) => ({
    send: () => undefined,
    close: () => undefined,
    tell: ({ updates, receipt, wire }: News) => {
      expect(wire).toEqual(messageBytes([...updates, receipt]));
      const said = [...updates, receipt].map((frame) => readFrame(frame));
      told.set(
        name,
        said.map((frame) => (frame?.type === "update" ? String(frame.update[0]) : (frame?.type ?? "none"))),
      );
    },
  });
  const [first, second, third, fourth] = ["first", "second", "third", "fourth"].map(named);
  const passed = [
    { caller: first!, update: new Uint8Array([1]) },
    { caller: second!, update: new Uint8Array([2]) },
    { caller: first!, update: new Uint8Array([3]) },
  ];
  tellNews([fourth!, first!, second!, third!], passed, new Map([[9, 3]]));
  expect(Object.fromEntries(told)).toEqual({
    first: ["2", "receipt"],
    second: ["1", "3", "receipt"],
    third: ["1", "2", "3", "receipt"],
    fourth: ["1", "2", "3", "receipt"],
  });
});
