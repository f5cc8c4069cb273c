/** A record that was verified, as the screen shows it; who in this club the player may be; and taking it in. Pure but for the book. */
import type { BookState, Day, PlayerId, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { personOf } from "../../record/excerpt.ts";
import type { TakenIn } from "../../record/taking.ts";
import { checkTaking, suggestedCutover, takeRecord } from "../../record/taking.ts";
import type { VerifiedRecord } from "../../record/verify.ts";
import { verifyRecordFile } from "../../record/verify.ts";

export interface FoundRecord {
  readonly record: VerifiedRecord;
  readonly player: PlayerId;
  /** The player, where this book knows the id. */
  readonly here: PlayerId | null;
  readonly cutover: Day;
}

export async function findRecord(
  text: string,
  book: Pick<Book, "id" | "state">,
): Promise<Result<FoundRecord, Message>> {
  const verified = await verifyRecordFile(text);
  if (!verified.ok) return fail(messageOf(verified.fault));
  const record = verified.value;
  const checked = checkTaking(book, record);
  if (!checked.ok) return fail(messageOf(checked.fault));
  const { player } = checked.value;
  const state = book.state();
  const here = personOf(state, player);
  const before = state.records.get(here ?? player)?.find(({ from }) => from === record.report.book);
  return ok({ record, player, here, cutover: before?.cutover ?? suggestedCutover(record) });
}

/** Who may be meant: everybody known here who may be joined to the record's player. */
export function whoMayBe(
  state: BookState,
  book: Pick<Book, "id" | "state">,
  { record, here }: FoundRecord,
): PlayerId[] {
  if (here !== null) return [];
  return [...state.players.keys()].filter((player) => checkTaking(book, record, player).ok);
}

export async function takeFound(
  book: Book,
  { record }: FoundRecord,
  wish: { readonly cutover: Day; readonly as: PlayerId | null },
): Promise<Result<TakenIn, Message>> {
  const { cutover, as } = wish;
  const taken = await takeRecord(book, record, { cutover, ...(as === null ? {} : { as }) });
  return taken.ok ? taken : fail(messageOf(taken.fault));
}
