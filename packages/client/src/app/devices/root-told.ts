/** Who a root key is: no person's device, but the club or the league itself. */
import type { KeyId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { devicesWords } from "../words/devices.ts";
import { words } from "../words.ts";

/** Null for any other device. */
export function rootTold(book: Book, key: KeyId): string | null {
  const { as, clubs, devices } = book.state();
  const device = devices.get(key);
  if (device?.role !== "root") return null;
  const of = device.club === null ? undefined : clubs.get(device.club)?.name;
  return of ?? (as === "league" ? devicesWords.leagueKey : words.office.root);
}
