/** Said while a report with a score pad's record is corrected: what of the record stays, and what does not. */
import type { MatchReported } from "@sward/core";
import { Notice } from "../parts/notice.tsx";
import { lostWords, keptRecordWords as words } from "../words/kept-record.ts";
import type { Recorded } from "./kept-record.ts";
import { keepRecord, recordedFor } from "./kept-record.ts";

interface KeptNoteProps {
  readonly corrected: MatchReported;
  readonly recorded: Recorded;
}

export function KeptNote({ corrected, recorded }: KeptNoteProps) {
  const record = recordedFor(recorded, corrected);
  if (record === undefined) return null;
  const { lost } = keepRecord(corrected, record);
  // A result that comes straight from the pad goes without saying while all is well.
  if (lost.length === 0 && typeof recorded === "function") return null;
  return (
    <Notice tone={lost.length === 0 ? "info" : "warn"} title={words.title} live>
      <p>{lost.length === 0 ? words.all : words.some}</p>
      {lost.length > 0 && (
        <ul>
          {lost.map((one) => (
            <li key={lostWords(one)}>{lostWords(one)}</li>
          ))}
        </ul>
      )}
    </Notice>
  );
}
