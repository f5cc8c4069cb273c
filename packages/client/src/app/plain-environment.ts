/**
 * In place of lib0's environment in the built app (vite.config.ts): Yjs asks it whether it is being developed and the wire whether it is
 * under Node, and it finds out at every start which of five platforms it is on: half a kilobyte of script and, on a phone, a
 * hundredth of a second.
 */
export const isNode = false;
export const isBrowser = true;
export const getVariable = (): null => null;
