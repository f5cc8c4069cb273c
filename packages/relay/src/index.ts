/** @sward/relay: a meeting place for books it cannot read. See PROTOCOL.md. */
export { packApp } from "./app-files.ts";
export * from "./config.ts";
export * from "./events.ts";
export { openJetStreamStorage } from "./jetstream-storage.ts";
export { openLevelStorage } from "./level-storage.ts";
export { createMemoryStorage } from "./memory-storage.ts";
export { connectNats } from "./nats-connection.ts";
export { openStorage } from "./open-storage.ts";
export * from "./start.ts";
export * from "./storage.ts";
