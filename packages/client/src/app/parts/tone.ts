/** How much something matters, always as a shape and a word too, never by colour alone. */
export type Tone = "good" | "warn" | "bad" | "info" | "plain";

export const toneMark: Readonly<Record<Tone, string>> = { good: "✓", warn: "!", bad: "✕", info: "i", plain: "·" };
