/** Starting handicaps, and what waits for others. */
import { useState } from "preact/hooks";
import { nameOf, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { laterWords } from "../words/attention-later.ts";
import { gamesWords, playersWords } from "./accounts.ts";
import { MatterBox } from "./matter.tsx";
import type { Matter } from "./matters.ts";

const StartDialog = lazyPart(() => import("../members/start-dialog.tsx"), "StartDialog");

type Of<A extends Matter["about"]> = { readonly matter: Extract<Matter, { readonly about: A }> };

export const OtherView = ({ matter }: Of<"no-handicap" | "one-report">) =>
  matter.about === "no-handicap" ? <NoHandicapView matter={matter} /> : <OneReportView matter={matter} />;

function NoHandicapView({ matter }: Of<"no-handicap">) {
  const may = mayHere(useDesk().club, "handicap-set");
  const [open, setOpen] = useState(false);
  const name = nameOf(matter.player);
  return (
    <MatterBox
      title={laterWords.noHandicap(name)}
      actions={
        <Button
          look="main"
          disabled={!may}
          aria-describedby={may ? undefined : "may-not-sign"}
          onClick={() => setOpen(true)}
        >
          {laterWords.giveHandicap}
          <span class="unseen">: {name}</span>
        </Button>
      }
    >
      {open && <StartDialog player={matter.player} onClose={() => setOpen(false)} />}
    </MatterBox>
  );
}

function OneReportView({ matter }: Of<"one-report">) {
  const href = useHref();
  const { book, clubs, date, fixture, matches, ours } = matter;
  return (
    <MatterBox
      title={laterWords.oneReport(clubs, date)}
      actions={
        <ButtonLink href={href(fixture === null ? places.league : places.fixture(book, fixture))}>
          {laterWords.toLeague}
        </ButtonLink>
      }
    >
      <p>{ours ? laterWords.oneReportOurs(matches.length) : laterWords.oneReportTheirs(matches.length)}</p>
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
