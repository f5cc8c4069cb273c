/** What an operator sees and sets: the log, the figures, the reference of settings, TLS of its own, and going in good order. */
import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { get } from "node:https";
import { createServer } from "node:net";
import { join } from "node:path";
import { closeCodes, roomPath } from "@sward/core";
import { expect, test } from "vitest";
import { readConfig, settings } from "../../packages/relay/src/config.ts";
import { createLog } from "../../packages/relay/src/log.ts";
import { settingsReference } from "../../packages/relay/src/settings-reference.ts";
import { temporaryFolders } from "../support/folders.ts";
import { newRoom, relayWith, tokenFor, until } from "../support/meeting.ts";
import { ending, enter } from "../support/plain-caller.ts";

const folder = temporaryFolders();

const freePort = (): Promise<number> =>
  new Promise((found) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address() as { port: number };
      server.close(() => found(port));
    });
  });

test("the log is one JSON line an event, with its level and time, and names no room in full", async () => {
  const room = await newRoom();
  const lines: string[] = [];
  const log = createLog("info", { write: (line: string) => lines.push(line) });
  log({ type: "listening", url: "http://127.0.0.1:1", store: "s" });
  log({ type: "not-stored", room: `ledger/${room.name}`, cause: "no room" });
  log({ type: "turned-away", room: roomPath("ledger", room.name), code: 4401, reason: "token-stale" });
  const read = lines.map((line) => JSON.parse(line) as Record<string, unknown>);
  expect(read).toMatchObject([
    { level: "info", type: "listening", url: "http://127.0.0.1:1" },
    { level: "error", type: "not-stored", room: `ledger/${room.name.slice(0, 8)}…`, cause: "no room" },
    { level: "info", type: "turned-away", code: 4401, reason: "token-stale" },
  ]);
  for (const { at } of read) expect(String(at)).toMatch(/^\d{4}-\d\d-\d\dT[\d:.]+Z$/);
  expect(lines.join("")).not.toContain(room.name);
  const quiet: string[] = [];
  createLog("error", { write: (line: string) => quiet.push(line) })({ type: "stopped" });
  expect(quiet).toEqual([]);
});

test("figures are counted by what happened and never by room or address, and are given on this machine only", async () => {
  const metricsPort = await freePort();
  const relay = await relayWith({ metricsPort });
  const room = await newRoom();
  const caller = await enter(relay.origin, room);
  await ending(relay.origin, roomPath("ledger", room.name));
  caller.send(new Uint8Array([9]));
  await until("closed", () => caller.closed() !== null);
  const figures = async () => (await fetch(`http://127.0.0.1:${metricsPort}/metrics`)).text();
  await expect.poll(figures).toContain('sward_relay_connections_closed_total{code="4400"} 1');
  const text = await figures();
  expect(text).toContain('sward_relay_turned_away_total{reason="token-missing"} 1');
  expect(text).toContain("sward_relay_connections_opened_total 1");
  expect(text).toMatch(/sward_relay_store_seconds_count\{call="follow"\} 1/);
  expect(text).toContain("nodejs_eventloop_lag_seconds");
  expect(text).not.toContain(room.name);
  expect(text).not.toContain("127.0.0.1");
  expect((await fetch(`${relay.origin}/metrics`)).status).toBe(404);
  await relay.close();
  await expect(fetch(`http://127.0.0.1:${metricsPort}/metrics`)).rejects.toThrow();
});

test("the reference of settings is what the schema says, and every setting has a purpose", () => {
  const page = readFileSync(new URL("../../packages/relay/CONFIGURATION.md", import.meta.url), "utf8");
  expect(page, "npm run relay:settings").toBe(settingsReference());
  expect(settings().length).toBeGreaterThan(25);
});

test("a certificate without its key is a fault that names the key", () => {
  expect(readConfig({ SWARD_RELAY_TLS_CERT_FILE: "/tmp/cert.pem" })).toEqual({
    ok: false,
    fault: [{ variable: "SWARD_RELAY_TLS_KEY_FILE", expected: "a file, since the other of the two is set" }],
  });
  expect(readConfig({ SWARD_RELAY_METRICS_PORT: "70000" })).toMatchObject({ ok: false });
});

test("with a certificate of its own it speaks TLS, to rooms and to all else", async () => {
  const place = folder();
  const [certFile, keyFile] = [join(place, "cert.pem"), join(place, "key.pem")];
  const made = [
    "-x509",
    "-newkey",
    "ec",
    "-pkeyopt",
    "ec_paramgen_curve:P-256",
    "-nodes",
    "-days",
    "2",
    "-subj",
    "/CN=localhost",
  ];
  execFileSync("openssl", ["req", ...made, "-keyout", keyFile, "-out", certFile], { stdio: "ignore" });
  const relay = await relayWith({ tls: { certFile, keyFile } });
  expect(relay.url).toMatch(/^https:/);
  const answer = await new Promise<string>((done, failed) => {
    get(`${relay.url}/health`, { ca: readFileSync(certFile), servername: "localhost" }, (response) => {
      response.on("data", (data: Buffer) => done(data.toString()));
    }).on("error", failed);
  });
  expect(JSON.parse(answer)).toMatchObject({ ok: true });
  await relay.close();
});

test("going, it answers that it is not well, lets nobody in, and lets the others go a few at a time", async () => {
  const relay = await relayWith({ roomConnections: 200 });
  const room = await newRoom();
  const inside = await Promise.all(Array.from({ length: 120 }, () => enter(relay.origin, room)));
  const late = await tokenFor(relay.origin, room, "ledger");
  const gone = relay.close();
  await until("the first have gone", () => inside.some((one) => one.closed() !== null));
  expect(inside.filter((one) => one.closed() === null).length).toBeGreaterThan(0);
  const refused = await ending(relay.origin, `${roomPath("ledger", room.name)}?token=${late}`).catch(() => null);
  if (refused !== null) expect([closeCodes.goingAway, 1006]).toContain(refused.code);
  await gone;
  await until("all have gone", () => inside.every((one) => one.closed() !== null));
  expect(new Set(inside.map((one) => one.closed()?.code))).toEqual(new Set([closeCodes.goingAway]));
  expect(relay.events).toContainEqual({ type: "draining", connections: 120 });
});
