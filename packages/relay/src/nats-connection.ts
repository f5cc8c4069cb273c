/** How a relay holds on to its NATS servers: through the loss of any of them, for as long as it runs. */
import type { NatsConnection } from "@nats-io/transport-node";
import { connect } from "@nats-io/transport-node";

export interface NatsSettings {
  /** `nats://host:port`, or `tls://`. */
  readonly servers: readonly string[];
  /** Contents of a file that NATS calls a token, null if the servers ask for none. */
  readonly token?: string | null;
  /** File of the authority that signed the servers' certificates, null for the system's. */
  readonly caFile?: string | null;
}

/** Rejects if no server takes the connection. */
export const connectNats = ({ servers, token = null, caFile = null }: NatsSettings): Promise<NatsConnection> =>
  connect({
    servers: [...servers],
    name: "sward-relay",
    // What we say in a room we tell those here ourselves.
    noEcho: true,
    maxReconnectAttempts: -1,
    reconnectTimeWait: 250,
    reconnectJitter: 250,
    timeout: 5000,
    // A server whose network went away says nothing; this is how long that goes unnoticed, twice.
    pingInterval: 5000,
    maxPingOut: 2,
    ...(token === null ? {} : { token }),
    ...(caFile === null ? {} : { tls: { caFile } }),
  });
