/** Said while a report with a score pad's record is corrected: what of the record stays, and what does not. */
import type { MatchReported } from "@sward/core";
import { Notice } from "../parts/notice.tsx";
import { lostWords, keptRecordWords as words } from "../words/kept-record.ts";
import { keepRecord } from "./kept-record.ts";

interface KeptNoteProps {
  readonly corrected: MatchReported;
  readonly recorded: MatchReported;
}

export function KeptNote({ corrected, recorded }: KeptNoteProps) {
  const { lost } = keepRecord(corrected, recorded);
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
