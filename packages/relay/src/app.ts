/**
 * What answers plain requests on a relay's port: nonces, health, and the app. Who asks for a WebSocket comes to `door.ts`.
 */
import type { IncomingMessage } from "node:http";
import type { HttpBindings } from "@hono/node-server";
import type { Context } from "hono";
import { Hono } from "hono";
import { serveAppFile } from "./app-files.ts";
import type { RelayConfig } from "./config.ts";
import type { Entrance } from "./entrance.ts";
import { roomKeyOf } from "./entrance.ts";
import type { RelayEvent } from "./events.ts";
import type { Storage } from "./storage.ts";

export interface AppParts {
  readonly config: RelayConfig;
  readonly storage: Storage;
  readonly entrance: Entrance;
  readonly rooms: { readonly inMemory: number };
  readonly sessions: { readonly size: number };
  readonly now: () => number;
  readonly log: (event: RelayEvent) => void;
  /** Whether the relay is letting everybody go. */
  readonly draining: () => boolean;
}

/** How long one health answer is good for: asking often must not write often. */
const healthMilliseconds = 1000;

export function createApp(parts: AppParts): Hono<{ Bindings: HttpBindings }> {
  const { config, rooms, sessions, entrance, log } = parts;
  const app = new Hono<{ Bindings: HttpBindings }>();

  app.onError((cause, c) => {
    log({ type: "fault", cause: String(cause) });
    return c.text("The relay failed to answer.\n", 500);
  });

  app.on(["GET", "POST"], "/rooms/:kind/:room/nonce", (c) => {
    forAnyOrigin(c);
    const key = roomKeyOf(c.req.path);
    if (key === null) return c.json({ fault: "no-such-room" }, 404);
    const from = entrance.whence(c.env.incoming as IncomingMessage);
    if (!entrance.mayAsk(from)) return c.json({ fault: "too-often" }, 429, { "retry-after": "10" });
    return c.json(entrance.asked(key, c.req.header("host")));
  });

  const health = createHealth(parts);
  app.get("/health", async (c) => {
    forAnyOrigin(c);
    const ok = !parts.draining() && (await health());
    const facts = { ok, store: parts.storage.id, rooms: rooms.inMemory, connections: sessions.size };
    return c.json(facts, ok ? 200 : 503);
  });

  app.get("*", async (c) => {
    const path = new URL(c.req.url).pathname;
    if (config.app === null) return c.text("Not found.\n", 404);
    return serveAppFile(config.app, path, c.req.header("accept-encoding"));
  });
  return app;
}

/** An app that came from one relay may use another; nothing here depends on cookies. */
function forAnyOrigin(c: Context): void {
  c.header("access-control-allow-origin", "*");
  c.header("cache-control", "no-store");
}

/** A real write and a real read, shared by all who ask within a second. */
function createHealth({ storage, now, log }: AppParts): () => Promise<boolean> {
  let until = 0;
  let answer: Promise<boolean> = Promise.resolve(false);
  return () => {
    if (now() < until) return answer;
    until = now() + healthMilliseconds;
    answer = storage.probe().then(
      () => true,
      (cause) => {
        log({ type: "fault", cause: String(cause) });
        return false;
      },
    );
    return answer;
  };
}
