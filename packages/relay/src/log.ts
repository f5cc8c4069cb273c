/**
 * How a relay's events are written: one JSON line each, by pino, for whatever gathers lines. An event holds no token, nonce or content to
 * begin with (events.ts); of a room's name only the beginning is written, enough to follow one room and too little to dial it.
 *
 * Rejected: logging requests as they come (addresses and tokens would be in it, and a storm would write more than it does).
 */
import type { DestinationStream } from "pino";
import { pino } from "pino";
import type { RelayEvent } from "./events.ts";
import type { LogLevel } from "./log-levels.ts";

const levels: Readonly<Record<RelayEvent["type"], LogLevel>> = {
  listening: "info",
  "turned-away": "info",
  refused: "warn",
  "not-stored": "error",
  "room-unreadable": "error",
  tidied: "info",
  "not-tidied": "warn",
  limited: "warn",
  draining: "info",
  "store-gone": "error",
  fault: "error",
  stopped: "info",
};

/** @param to where the lines go; the process's output unless given */
export function createLog(level: LogLevel, to?: DestinationStream): (event: RelayEvent) => void {
  const options = {
    level,
    base: null,
    formatters: { level: (label: string) => ({ level: label }) },
    timestamp: () => `,"at":"${new Date().toISOString()}"`,
    messageKey: "type",
  };
  const logger = to === undefined ? pino(options) : pino(options, to);
  return ({ type, ...facts }) => logger[levels[type]](withoutNames(facts), type);
}

/** `ledger/Ab3dE6gH…`: the kind, and eight letters of the room. */
function withoutNames(facts: object): object {
  return "room" in facts && typeof facts.room === "string" ? { ...facts, room: shortRoom(facts.room) } : facts;
}

const shortRoom = (room: string): string => room.replace(/([A-Za-z0-9_-]{8})[A-Za-z0-9_-]{3,}/g, "$1…");
