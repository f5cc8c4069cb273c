/** Starting handicaps, and what waits for others. */
import { useState } from "preact/hooks";
import { nameOf, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { attentionWords } from "../words/attention.ts";
import { gamesWords, playersWords } from "./accounts.ts";
import { MatterBox } from "./matter.tsx";
import type { Matter } from "./matters.ts";

const StartDialog = lazyPart(() => import("../members/start-dialog.tsx"), "StartDialog");

type Of<A extends Matter["about"]> = { readonly matter: Extract<Matter, { readonly about: A }> };

export function NoHandicapView({ matter }: Of<"no-handicap">) {
  const may = mayHere(useDesk().club, "handicap-set");
  const [open, setOpen] = useState(false);
  const name = nameOf(matter.player);
  return (
    <MatterBox
      title={attentionWords.noHandicap(name)}
      actions={
        <Button
          look="main"
          disabled={!may}
          aria-describedby={may ? undefined : "may-not-sign"}
          onClick={() => setOpen(true)}
        >
          {attentionWords.giveHandicap}
          <span class="unseen">: {name}</span>
        </Button>
      }
    >
      {open && <StartDialog player={matter.player} onClose={() => setOpen(false)} />}
    </MatterBox>
  );
}

export function OneReportView({ matter }: Of<"one-report">) {
  const href = useHref();
  const { book, clubs, date, fixture, matches, ours } = matter;
  return (
    <MatterBox
      title={attentionWords.oneReport(clubs, date)}
      actions={
        <ButtonLink href={href(fixture === null ? places.league : places.fixture(book, fixture))}>
          {attentionWords.toLeague}
        </ButtonLink>
      }
    >
      <p>{ours ? attentionWords.oneReportOurs(matches.length) : attentionWords.oneReportTheirs(matches.length)}</p>
      <ul>
        {matches.map(({ key, reports: [report] }) => (
          <li key={key}>
            {report !== undefined && `${playersWords(report.facts, nameOf)}, ${gamesWords(report.facts.games)}`}
          </li>
        ))}
      </ul>
    </MatterBox>
  );
}
