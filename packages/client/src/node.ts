/** What a book needs under Node: LevelDB for vault and documents. */
export { createLevelDocStore } from "./book/doc-store-level.ts";
export { openLevelVault } from "./book/vault-level.ts";
export { type Home, openHome, readHome, writeHome } from "./desk/home.ts";
export { type NodeDeskOptions, nodeBookOptions, openNodeDesk } from "./desk/node.ts";
