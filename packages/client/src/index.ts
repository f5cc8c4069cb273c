/** @sward/client: books on a device. For both platforms; `@sward/client/node` adds what needs Node. */
export type { Book, Custody } from "./book/book.ts";
export { openBook } from "./book/book.ts";
export { createMemoryDocStore, type DocStore } from "./book/doc-store.ts";
export type { AppendFault } from "./book/faults.ts";
export type { BookOptions, Clock } from "./book/options.ts";
export type { RosterRecord, RosterSubject } from "./book/roster.ts";
export type { Roster } from "./book/roster-book.ts";
export { type OpenFault, openEnvelope, seal } from "./book/seal.ts";
export type { HeldEntry, Place, Vault, VaultRecord } from "./book/vault.ts";
export { createMemoryVault } from "./book/vault-memory.ts";
export { type Desk, openDesk } from "./desk/desk.ts";
export { decodePass, encodePass, epochsOf, type Pass, seedOf } from "./desk/pass.ts";
export { ENTRIES_PER_BLOCK, randomId, systemClock, systemRandom } from "./desk/platform.ts";
export { deriveEpoch, type Epoch, type EpochKeys } from "./keys/book-keys.ts";
export { createSigner, type Signer } from "./keys/signer.ts";
export { createVerifier, type Verifier } from "./keys/verifier.ts";
export type { Connection, OpenWire, Wire, WireDeps } from "./wire/connection.ts";
export { openWire } from "./wire/wire.ts";
