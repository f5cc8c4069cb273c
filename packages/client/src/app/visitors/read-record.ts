/** A player's record file, read only to see whose it is: checked like any other, signature by signature, and nothing of it is kept. */
import type { BookState, PlayerId, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { verifyRecordFile } from "../../record/verify.ts";
import { visitorWords } from "../words/visitors.ts";

export interface ReadRecord {
  readonly player: PlayerId;
  readonly state: BookState;
}

export async function readRecord(text: string): Promise<Result<ReadRecord, Message>> {
  const verified = await verifyRecordFile(text);
  if (!verified.ok) return fail(messageOf(verified.fault));
  const { report, state } = verified.value;
  return report.player === null ? fail(visitorWords.links.fileWhole) : ok({ player: report.player, state });
}
