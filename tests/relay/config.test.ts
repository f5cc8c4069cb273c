import { spawnSync } from "node:child_process";
import { defaultConfig, readConfig } from "@sward/relay";
import { expect, test } from "vitest";

test("an empty environment gives the defaults, and variables of others are not looked at", () => {
  const read = readConfig({ PATH: "/bin", SWARD_HOME: "x", PORT: "none" });
  expect(read).toEqual({ ok: true, value: defaultConfig() });
  expect(defaultConfig()).toMatchObject({ host: "127.0.0.1", port: 8787, origins: [] });
});

test("what is set is taken over", () => {
  const read = readConfig({
    SWARD_RELAY_PORT: "0",
    SWARD_RELAY_HOST: "::1",
    SWARD_RELAY_APP: "",
    SWARD_RELAY_ORIGINS: "https://relay.example, http://10.0.0.5:8787",
    SWARD_RELAY_IDLE_SECONDS: "5",
  });
  expect(read.ok && read.value).toMatchObject({
    port: 0,
    host: "::1",
    app: null,
    origins: ["https://relay.example", "http://10.0.0.5:8787"],
    idleMilliseconds: 5000,
  });
});

const faulty = {
  SWARD_RELAY_PORT: "70000",
  SWARD_RELAY_DATA: "",
  SWARD_RELAY_ORIGINS: "https://relay.example/path",
  SWARD_RELAY_CLIENTS: "1e3",
  SWARD_RELAY_MESAGE_BYTES: "1000000",
};

test("all faults are listed at once, each with its variable and what was expected", () => {
  const read = readConfig(faulty);
  const faults = read.ok ? [] : read.fault;
  expect(faults.map(({ variable }) => variable).sort()).toEqual(Object.keys(faulty).sort());
  expect(faults.find(({ variable }) => variable === "SWARD_RELAY_PORT")?.expected).toBe(
    "a whole number from 0 to 65535",
  );
  expect(faults.find(({ variable }) => variable === "SWARD_RELAY_MESAGE_BYTES")?.expected).toContain(
    "SWARD_RELAY_MESSAGE_BYTES",
  );
  for (const { expected } of faults) expect(expected).not.toBe("another value");
});

test("origins that a browser would never send are faults", () => {
  for (const origin of [
    "relay.example",
    "https://relay.example/",
    "ftp://relay.example",
    "https://relay.example:443",
    "*",
  ]) {
    expect(readConfig({ SWARD_RELAY_ORIGINS: origin }).ok, origin).toBe(false);
  }
});

test("a relay with faulty settings says all of them and ends with 2", () => {
  const ended = spawnSync(process.execPath, ["--import", "tsx", "packages/relay/src/main.ts"], {
    env: { PATH: process.env["PATH"] ?? "", ...faulty },
    encoding: "utf8",
  });
  expect(ended.status).toBe(2);
  for (const variable of Object.keys(faulty)) expect(ended.stderr).toContain(variable);
  expect(ended.stdout).toBe("");
});

test("a store that several relays share is named with its servers; secrets come in a file, never in an address", () => {
  expect(defaultConfig().nats).toBe(null);
  const read = readConfig({
    SWARD_RELAY_NATS: "nats://10.0.0.1:4222, tls://nats-2.example:4222",
    SWARD_RELAY_NATS_REPLICAS: "1",
    SWARD_RELAY_NATS_TOKEN_FILE: "/run/token",
  });
  expect(read.ok && read.value.nats).toEqual({
    servers: ["nats://10.0.0.1:4222", "tls://nats-2.example:4222"],
    name: "sward",
    replicas: 1,
    tokenFile: "/run/token",
    caFile: null,
  });
  const faulty = { NATS: "nats://secret@10.0.0.1", NATS_NAME: "a.b", NATS_REPLICAS: "2" };
  const given = Object.entries(faulty).map(([name, value]) => [`SWARD_RELAY_${name}`, value]);
  const fault = readConfig(Object.fromEntries(given));
  expect(fault.ok ? [] : fault.fault.map(({ variable }) => variable).sort()).toEqual(
    given.map(([name]) => name).sort(),
  );
});
