/** Whose word a report is, as people say it: in a league the club's, inside a club the person's device. */
import type { Report } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { deviceName } from "../desk-store.ts";

export function teller(book: Pick<Book, "state">, report: Report | undefined): string {
  if (report === undefined) return "";
  const { devices, clubs } = book.state();
  const club = devices.get(report.by)?.club ?? null;
  return (club === null ? undefined : clubs.get(club)?.name) ?? deviceName(report.by);
}
