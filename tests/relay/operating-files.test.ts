/** What OPERATING.md hands out, as far as a test can tell: settings that exist, files that are there, a configuration NATS takes. */
import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { readConfig } from "@sward/relay";
import { expect, test } from "vitest";
import { settings } from "../../packages/relay/src/config.ts";
import { temporaryFolders } from "../support/folders.ts";
import { natsServerProgram } from "../support/nats-server.ts";
import { repository } from "../support/sources.ts";

const folder = temporaryFolders();
const operating = `${repository}/packages/relay/operating`;
const textOf = (path: string): string => readFileSync(`${repository}/${path}`, "utf8");
const files = readdirSync(operating).map((name) => `packages/relay/operating/${name}`);
const all = [...files, "packages/relay/OPERATING.md", "packages/relay/Containerfile"];

/** `NAME=value` lines, as systemd reads them. */
const variables = (text: string): Record<string, string> =>
  Object.fromEntries([...text.matchAll(/^([A-Z_]+)=(.*)$/gm)].map(([, name = "", value = ""]) => [name, value]));

test("every setting that is named is one", () => {
  const known = new Set(settings().map(({ name }) => `SWARD_RELAY_${name}`));
  const named = all.flatMap((path) => [...textOf(path).matchAll(/SWARD_RELAY_[A-Z_]+/g)].map(([name]) => name));
  expect(named.length).toBeGreaterThan(30);
  expect(named.filter((name) => !known.has(name))).toEqual([]);
});

test("the relay's settings are good ones, and name three servers and the two other relays", () => {
  const read = readConfig(variables(textOf("packages/relay/operating/relay.env")));
  expect(read.ok && read.value.nats?.servers).toHaveLength(3);
  expect(read.ok && read.value.others).toHaveLength(2);
  expect(read.ok && read.value.others.includes(read.value.origins[0] ?? "")).toBe(false);
});

test("every program and file that the units start is there", () => {
  const started = files.flatMap((path) => [...textOf(path).matchAll(/packages\/[\w./-]+/g)].map(([file]) => file));
  expect(started.length).toBeGreaterThan(4);
  for (const file of started) expect(existsSync(`${repository}/${file.replace(/\.$/, "")}`), file).toBe(true);
});

test("the NATS server takes its configuration, with the variables that come with it", () => {
  const environment = { ...variables(textOf("packages/relay/operating/nats.env")), NATS_STORE: folder() };
  const check = (env: Record<string, string>): string => {
    try {
      return execFileSync(natsServerProgram(), ["-t", "-c", `${operating}/nats.conf`], {
        env,
        encoding: "utf8",
        stdio: ["ignore", "pipe", "pipe"],
      });
    } catch (failed) {
      return String((failed as { stderr: string }).stderr);
    }
  };
  expect(check({ ...environment })).not.toContain("variable reference");
  // Without this the test would show nothing: a variable that is missing is noticed.
  expect(check({ NATS_STORE: environment.NATS_STORE })).toContain("variable reference");
});
