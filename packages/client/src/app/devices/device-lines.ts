/** Of each device of a book: when and by whom it was admitted, and when it was last heard of, from the entries that count. */
import type { BookState, Counted, Device, KeyId } from "@sward/core";
import { byCodeUnits, keyIdOf } from "@sward/core";

export interface DeviceLine {
  readonly device: Device;
  /** The clock of the device that admitted it, RFC 3339; null for the root and where no such entry is here. */
  readonly admittedAt: string | null;
  /** By the device's own clock, which proves nothing; null when it has written nothing that counts. */
  readonly heardAt: string | null;
}

/** The book's own key first, then whoever was heard of last. */
export function deviceLines(
  { book, devices }: Pick<BookState, "book" | "devices">,
  counted: Iterable<Counted>,
): readonly DeviceLine[] {
  const admitted = new Map<KeyId, string>();
  const heard = new Map<KeyId, string>();
  for (const { entry, origin } of counted) {
    if (origin !== book) continue;
    const last = heard.get(entry.author);
    if (last === undefined || byCodeUnits(last, entry.at) < 0) heard.set(entry.author, entry.at);
    if (entry.kind !== "device-admitted" && entry.kind !== "club-admitted") continue;
    const key = keyIdOf(entry.kind === "device-admitted" ? entry.body.device : entry.body.club);
    // A device stands by one admission; another of it, by somebody else, changes nothing.
    if (devices.get(key)?.admittedBy === entry.author && !admitted.has(key)) admitted.set(key, entry.at);
  }
  const lines = [...devices.values()].map((device) => ({
    device,
    admittedAt: admitted.get(device.device) ?? null,
    heardAt: heard.get(device.device) ?? null,
  }));
  return lines.sort(
    (a, b) =>
      Number(b.device.role === "root") - Number(a.device.role === "root") ||
      Number(a.device.barred) - Number(b.device.barred) ||
      byCodeUnits(b.heardAt ?? "", a.heardAt ?? "") ||
      byCodeUnits(a.device.device, b.device.device),
  );
}
