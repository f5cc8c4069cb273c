/** The relay's ports besides plain HTTP: TLS with a certificate of its own, and the figures for the operator alone. */
import { readFile } from "node:fs/promises";
import type { Server } from "node:http";
import { createServer } from "node:http";
import { createServer as createTlsServer } from "node:https";
import type { RelayConfig } from "./config.ts";
import type { Metrics } from "./metrics.ts";

/** What makes the adaptor's server an encrypted one, or nothing. Rejects if a file cannot be read. */
export async function encrypted({ tls }: RelayConfig) {
  if (tls === null) return {};
  const [cert, key] = await Promise.all([readFile(tls.certFile), readFile(tls.keyFile)]);
  return { createServer: createTlsServer, serverOptions: { cert, key } };
}

/**
 * On this machine only: the figures say when the clubs play. Whoever gathers them from elsewhere does so through the operator's own door.
 */
export async function serveMetrics(metrics: Metrics, port: number): Promise<Server> {
  const server = createServer((request, response) => {
    if (request.url !== "/metrics") {
      response.writeHead(404).end();
      return;
    }
    void metrics.text().then(({ body, type }) => response.writeHead(200, { "content-type": type }).end(body));
  });
  await new Promise<void>((listening, failed) => {
    server.once("error", failed);
    server.listen(port, "127.0.0.1", () => listening());
  });
  return server;
}
