/** From what on events are written. Apart from the log, so that settings can be read without it. */
export const logLevels = ["debug", "info", "warn", "error"] as const;

export type LogLevel = (typeof logLevels)[number];
