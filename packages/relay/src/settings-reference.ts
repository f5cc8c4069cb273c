/**
 * What each setting is for, and the reference made from it: `CONFIGURATION.md` is this text, and a test holds the two together.
 * A setting without a purpose, or the reverse, makes none at all.
 */
import { settings } from "./config.ts";

const purposes: Readonly<Record<string, string>> = {
  HOST: "Where it listens. `0.0.0.0` or `::` for every address of the machine.",
  PORT: "The port; 0 for any that is free.",
  DATA: "Folder of the store, and of the socket that commands come to.",
  APP: "Folder of the built app that it serves beside the rooms; nothing for rooms alone.",
  ORIGINS: "What it is called from outside. A token names the relay it is for, so behind a proxy this must be set.",
  OTHERS: "Other relays of the same store, which devices dial when this one fails; each as it is called from outside.",
  NATS: "Servers of a store that several relays share; nothing for a store of its own in DATA.",
  NATS_NAME: "Of the streams; relays of one name share one store.",
  NATS_REPLICAS: "How many servers keep each entry; only used when the store is made.",
  NATS_TOKEN_FILE: "File with the token that the NATS servers ask for.",
  NATS_CA_FILE: "File with the certificate of the authority behind the NATS servers' own.",
  MESSAGE_BYTES: "Bytes of one message.",
  ENVELOPE_BYTES: "Bytes of one envelope.",
  LEDGER_BYTES: "Bytes of one ledger room.",
  ROSTER_BYTES: "Bytes of one roster room.",
  CONNECTIONS: "Connections in all; more are told to try later.",
  ROOM_CONNECTIONS: "Connections in one room.",
  ADDRESS_CONNECTIONS: "Connections from one address; a club house is one for all its members.",
  ADDRESS_DIALS: "Times a minute that one address may ask to enter.",
  PROXIES:
    "Proxies of yours in front of it: so many addresses from the end of X-Forwarded-For are believed. 0: none are.",
  CLIENTS: "Yjs client ids in one room: each session that writes adds one.",
  MESSAGES_PER_SECOND: "Of one connection; ten seconds' worth at once, then it is read more slowly.",
  BYTES_PER_SECOND: "Of one connection, likewise.",
  ROOM_BYTES_PER_SECOND: "Of one room, whoever sends it, likewise.",
  READINGS: "Rooms read from the store at the same time.",
  HISTORY_BYTES: "Bytes of history on their way to all callers together; the others wait.",
  UNSENT_BYTES:
    "Bytes that may wait for a slow caller: a sixteenth of it and it is told less, all of it and it is let go.",
  METRICS_PORT: "Port, on this machine only, where `/metrics` gives figures for Prometheus; nothing for none.",
  TLS_CERT_FILE: "Certificate, where it has one of its own and no proxy in front.",
  TLS_KEY_FILE: "The certificate's key.",
  LOG: "From what on events are written.",
  IDLE_SECONDS: "How long a room that everybody has left stays in memory.",
  PULSE_SECONDS: "How often it says that it is there.",
};

/** CONFIGURATION.md. Throws when a setting has no purpose written above, or a purpose no setting. */
export function settingsReference(): string {
  const all = settings();
  for (const { name } of all) if (purposes[name] === undefined) throw new Error(`what is ${name} for?`);
  for (const name of Object.keys(purposes)) {
    if (!all.some((one) => one.name === name)) throw new Error(`there is no setting ${name}`);
  }
  const rows = all.map(
    ({ name, expected, otherwise }) =>
      `| \`SWARD_RELAY_${name}\` | ${purposes[name]} | ${expected} | ${otherwise === "" ? "nothing" : `\`${otherwise}\``} |`,
  );
  return `# Settings of a relay

Environment variables, read once at the start. One that is misspelt or out of range stops the start and is named, with what was expected.
This page is made from the schema in \`src/config.ts\` and \`src/settings-reference.ts\`: \`npm run relay:settings\`.

| variable | what for | may be | unless set |
| --- | --- | --- | --- |
${rows.join("\n")}
`;
}
