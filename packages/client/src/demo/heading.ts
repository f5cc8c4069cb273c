/** The JSON file that heads a club's or a league's folder: its name, its devices and the rules it plays by. The file edge. */
import { Day, findRuleSet, LeagueRules, Role, StartTime } from "@sward/core";
import * as z from "zod/mini";
import { KEY } from "./forms.ts";
import type { Reading } from "./table.ts";
import type { DemoDevice, DeviceRef } from "./world.ts";

const text = (max: number) => z.string().check(z.minLength(1), z.maxLength(max));
const key = z.string().check(z.regex(KEY));

const Device = z.strictObject({ key, label: text(60), holder: z.optional(key), role: Role() });

const heading = {
  name: text(80),
  /** The day the book was opened and its devices admitted. */
  opened: Day(),
  /** When people here write up the day, UTC. */
  writes_at: StartTime(),
  rules: z
    .array(z.strictObject({ rules: z.string().check(z.refine((id) => findRuleSet(id) !== undefined)), from: Day() }))
    .check(z.minLength(1)),
  /** One of them must be a handicapper's: it writes down the members. */
  devices: z.array(Device).check(z.refine((devices) => devices.some(({ role }) => role === "handicapper"))),
};

export const ClubFile = z.strictObject(heading);
export type ClubFile = z.infer<typeof ClubFile>;

export const LeagueFile = z.strictObject({
  ...heading,
  /** Which clubs play, and which of their devices write in the league's book; the first must be a handicapper's. */
  clubs: z.array(z.strictObject({ club: key, devices: z.array(key).check(z.minLength(1)) })).check(z.minLength(2)),
  /** What a fixture is worth and how the table is made, and from which day on. */
  league_rules: z.optional(z.array(z.strictObject({ from: Day(), rules: LeagueRules }))),
});
export type LeagueFile = z.infer<typeof LeagueFile>;

export function readHeading<T>(reading: Reading, file: string, schema: z.ZodMiniType<T>): T | null {
  let value: unknown;
  try {
    value = JSON.parse(reading.files.get(file) ?? "");
  } catch {
    reading.faults.push({ type: "demo-json", file, member: "" });
    return null;
  }
  const parsed = schema.safeParse(value);
  if (parsed.success) return parsed.data;
  for (const { path } of parsed.error.issues) reading.faults.push({ type: "demo-json", file, member: path.join(".") });
  return null;
}

export const rootOf = (slug: string): DeviceRef => `${slug}/root`;

/** Devices by their key in the file; the root, which is in no file, apart. */
export function devicesOf(slug: string, file: ClubFile): ReadonlyMap<string, DemoDevice> {
  return new Map(
    file.devices.map(({ key, label, holder, role }) => [
      key,
      { ref: `${slug}/${key}` as const, label, holder: holder ?? null, role },
    ]),
  );
}

export const rootDevice = (slug: string, name: string): DemoDevice => ({
  ref: rootOf(slug),
  label: `${name}, root key`,
  holder: null,
  role: "root",
});
