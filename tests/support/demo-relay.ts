/**
 * The demo clubs at a relay that is a process of its own, as `npm run serve` starts it, so that a test can kill it without warning
 * and start it again on the same folder and port.
 */
import type { ChildProcess } from "node:child_process";
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join, relative, sep } from "node:path";
import type { Pass, Signer } from "@sward/client";
import { openBook, openWire, systemRandom } from "@sward/client";
import type { SignedBook, SignedDemo } from "@sward/client/demo";
import { demoPass, demoSecret, publishDemo, readDemo, signDemo } from "@sward/client/demo";
import type { Draft } from "@sward/core";
import { wireDeps } from "./meeting.ts";
import { repository } from "./sources.ts";
import { optionsFor, until } from "./two-clubs.ts";

const demoFolder = join(repository, "demo-clubs");

export async function demoFiles(): Promise<Map<string, string>> {
  const files = new Map<string, string>();
  for (const entry of await readdir(demoFolder, { recursive: true, withFileTypes: true })) {
    if (!entry.isFile() || !/\.(csv|json)$/.test(entry.name)) continue;
    const path = join(entry.parentPath, entry.name);
    files.set(relative(demoFolder, path).split(sep).join("/"), await readFile(path, "utf8"));
  }
  return files;
}

export interface DemoRelay {
  readonly origin: string;
  readonly demo: SignedDemo;
  /** A device's pass, such as `ferncombe/captains-phone`. */
  pass(device: `${string}/${string}`): Pass;
  person(key: string): SignedBook["demo"]["people"][number];
  /** Writes in a book as one of the demo's devices, under Node, and waits until the relay has stored it. */
  write(book: string, device: `${string}/${string}`, drafts: readonly Draft[]): Promise<void>;
  /** No warning, no goodbye. */
  kill(): Promise<void>;
  start(): Promise<void>;
  close(): Promise<void>;
}

async function freePort(): Promise<number> {
  const server = createServer().listen(0, "127.0.0.1");
  await once(server, "listening");
  const address = server.address();
  server.close();
  await once(server, "close");
  if (address === null || typeof address === "string") throw new Error("no free port");
  return address.port;
}

/** `app`: the folder of the built app. */
export async function startDemoRelay(app: string): Promise<DemoRelay> {
  const [folder, port] = [await mkdtemp(join(tmpdir(), "sward-demo-")), await freePort()];
  const origin = `http://127.0.0.1:${port}`;
  let child: ChildProcess | null = null;

  async function start(): Promise<void> {
    child = spawn(process.execPath, ["--import", "tsx", "packages/relay/src/main.ts"], {
      cwd: repository,
      env: {
        ...process.env,
        SWARD_RELAY_PORT: String(port),
        SWARD_RELAY_DATA: folder,
        SWARD_RELAY_APP: app,
      },
      stdio: "ignore",
    });
    for (let tries = 0; ; tries += 1) {
      const answer = await fetch(`${origin}/health`).catch(() => null);
      if (answer?.ok) return;
      if (tries > 200) throw new Error("the relay did not start");
      await new Promise((done) => setTimeout(done, 100));
    }
  }
  async function kill(): Promise<void> {
    if (child === null || child.exitCode !== null) return;
    const ended = once(child, "exit");
    child.kill("SIGKILL");
    await ended;
  }

  await start();
  const read = readDemo(await demoFiles());
  if (!read.ok) throw new Error(JSON.stringify(read.fault));
  const demo = await signDemo(read.value);
  const relay = { url: origin, open: openWire, deps: wireDeps };
  await publishDemo(demo, { relay, randomBytes: systemRandom, timestamp: () => "2026-11-25T08:00:00Z" });

  const bookOf = (slug: string): SignedBook => {
    const found = [...demo.clubs, ...demo.leagues].find((one) => one.demo.slug === slug);
    if (found === undefined) throw new Error(`no ${slug}`);
    return found;
  };
  return {
    origin,
    demo,
    pass(device) {
      const club = bookOf(device.split("/")[0] as string);
      const named = club.demo.devices.find(({ ref }) => ref === device);
      if (named === undefined) throw new Error(`no ${device}`);
      return demoPass(device, named.label, club, demo);
    },
    person(key) {
      const found = demo.clubs.flatMap((club) => club.demo.people).find((one) => one.key === key);
      if (found === undefined) throw new Error(`no ${key}`);
      return found;
    },
    async write(slug, device, drafts) {
      const { book } = bookOf(slug);
      const signer = demo.signers.get(device) as Signer;
      const root = demo.signers.get(`${slug}/root`) as Signer;
      const options = optionsFor({ book, root, secret: demoSecret(slug) }, signer, origin);
      const opened = await openBook({ ...options, clock: { ...options.clock, today: () => "2026-11-25" } });
      await until("the book is here", () => opened.caughtUp() && opened.state().devices.has(signer.id));
      const saved = await opened.append(drafts);
      if (!saved.ok) throw new Error(JSON.stringify(saved.fault));
      await until("stored", () => saved.value.every((id) => opened.custody(id) === "relay"));
      await opened.close();
    },
    kill,
    start,
    async close() {
      await kill();
      await rm(folder, { recursive: true, force: true });
    },
  };
}
