/** What was entered on this device, newest first, with where it is by now, undo and correction. */
import type { EntryId, PlayerId } from "@sward/core";
import { showDayShort } from "../dates.ts";
import { Badge } from "../parts/badge.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { CustodyBadge } from "../parts/custody-badge.tsx";
import { entryWords } from "../words/entry.ts";
import { matchWords, ownSideFirst } from "../words/match.ts";
import { words } from "../words.ts";
import type { Entered } from "./lately.ts";

export interface LatelyListProps {
  readonly entered: readonly Entered[];
  readonly custodyOf: (entry: EntryId) => "here" | "relay" | null;
  readonly shortName: (player: PlayerId) => string;
  readonly isOurs: (player: PlayerId) => boolean;
  readonly correctHref: (entry: EntryId) => string;
  readonly onUndo: (entered: Entered) => void;
}

export function LatelyList({ entered, custodyOf, shortName, isOurs, correctHref, onUndo }: LatelyListProps) {
  return (
    <section class="lately" aria-label={entryWords.lately}>
      <h2>{entryWords.lately}</h2>
      {entered.length === 0 && <p class="quiet">{entryWords.latelyEmpty}</p>}
      <ol>
        {entered.map((one) => {
          const { match, report } = one;
          const custody = custodyOf(report.entry);
          const sentence = matchWords(ownSideFirst(report.facts, isOurs), shortName);
          const status = entryWords.status[match.status];
          return (
            <li key={report.entry}>
              <p>
                <span class="lately-match">{sentence}</span>{" "}
                <span class="quiet small">{showDayShort(report.facts.date)}</span> <CustodyBadge custody={custody} />{" "}
                {status !== "" && <Badge tone={match.status === "held" ? "warn" : "info"}>{status}</Badge>}
              </p>
              <div class="row">
                <Button aria-label={entryWords.undoMatch(sentence)} onClick={() => onUndo(one)}>
                  {words.undo}
                </Button>
                <ButtonLink look="quiet" href={correctHref(report.entry)}>
                  {entryWords.correct}
                  <span class="unseen"> {sentence}</span>
                </ButtonLink>
              </div>
            </li>
          );
        })}
      </ol>
    </section>
  );
}
