/**
 * In place of lib0's logging in the built app (vite.config.ts): Yjs needs it for three warnings, and it brings a colour palette, the
 * drawing of tables in a console and, by way of them, a schema library: 10 kB of script before a phone may show anything.
 */

export const BOLD = "";
export const UNBOLD = "";
export const RED = "";
export const ORANGE = "";

export const warn = (...said: readonly unknown[]): void => console.warn(...said);
export const print = (...said: readonly unknown[]): void => console.warn(...said.filter((part) => part !== ""));
