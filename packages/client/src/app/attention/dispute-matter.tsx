/** A match told in two ways: both accounts side by side, what differs said in words, and the ways to settle it. */
import type { Report } from "@sward/core";
import { useState } from "preact/hooks";
import { showMoment } from "../dates.ts";
import { nameOf, officeHere, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Badge } from "../parts/badge.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { factWords, laterWords } from "../words/attention-later.ts";
import { changeWords } from "../words/changes.ts";
import { occasionWords } from "../words/play.ts";
import { words } from "../words.ts";
import { factRows, playersWords } from "./accounts.ts";
import { MatterBox } from "./matter.tsx";
import type { DisputeMatter } from "./matters.ts";
import { teller } from "./teller.ts";

const RuleDialog = lazyPart(() => import("./rule-dialog.tsx"), "RuleDialog");

export function DisputeView({ matter }: { readonly matter: DisputeMatter }) {
  const desk = useDesk();
  const href = useHref();
  const [ruling, setRuling] = useState(false);
  const book = desk.books.get(matter.book);
  const { match, ours, mayRule } = matter;
  const [first] = match.reports;
  if (book === undefined || first === undefined) return null;
  const league = book.state().as === "league";
  const where = league ? book.state().name : occasionWords[first.facts.occasion];
  return (
    <MatterBox
      title={playersWords(first.facts, nameOf)}
      actions={
        <>
          <Button onClick={() => setRuling(true)} disabled={!mayRule} look={mayRule ? "main" : "plain"}>
            {laterWords.rule}
          </Button>
          {ours.length === 0 && <span class="quiet small">{laterWords.mayNotCorrect}</span>}
          {!mayRule && (
            <span class="quiet small">
              {league ? laterWords.mayNotRuleLeague : laterWords.mayNotRule}{" "}
              {changeWords.here(words.office[officeHere.value])}
            </span>
          )}
        </>
      }
    >
      <p>
        {laterWords.disputeWhen(first.facts.date, where)}{" "}
        {laterWords.differsIn(match.differs.map((fact) => factWords[fact]).join(", "))}
      </p>
      <div class="accounts">
        {match.reports.map((report) => (
          <Account
            key={report.entry}
            report={report}
            told={teller(book, report)}
            differs={match.differs}
            correct={ours.includes(report.entry) ? href(places.entry, { correct: report.entry }) : null}
            only={ours.length === 1}
          />
        ))}
      </div>
      {ruling && <RuleDialog book={book} match={match} onClose={() => setRuling(false)} />}
    </MatterBox>
  );
}

interface AccountProps {
  readonly report: Report;
  readonly told: string;
  readonly differs: Parameters<typeof factRows>[1];
  /** Where to correct it, null when this device may not. */
  readonly correct: string | null;
  /** The only one that this device may correct: then it is ours. */
  readonly only: boolean;
}

function Account({ report, told, differs, correct, only }: AccountProps) {
  return (
    <section class="account" aria-label={laterWords.reportBy(told)}>
      <h4>
        {laterWords.reportBy(told)} <span class="quiet small">{showMoment(report.at)}</span>
      </h4>
      <dl>
        {factRows(report.facts, differs, nameOf).map((row) => (
          <div key={row.fact} class={row.differs ? "account-fact account-differs" : "account-fact"}>
            <dt>
              {row.label} {row.differs && <Badge tone="warn">{laterWords.differsMark}</Badge>}
            </dt>
            <dd>{row.value}</dd>
          </div>
        ))}
      </dl>
      {correct !== null && (
        <p>
          <ButtonLink href={correct}>
            {only ? laterWords.correct : laterWords.correctThis}
            <span class="unseen">: {laterWords.reportBy(told)}</span>
          </ButtonLink>
        </p>
      )}
    </section>
  );
}
