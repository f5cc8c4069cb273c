/** Every proposed change that this device knows of, those without an answer first. */
import "./proposals.css";
import { showMoment } from "../dates.ts";
import { lastMet, nameOf, useDesk } from "../desk-store.ts";
import { ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import { proposalWords } from "../words/proposals.ts";
import { words } from "../words.ts";
import { ProposalActions } from "./proposal-actions.tsx";
import { ProposalView, pageOf } from "./proposal-view.tsx";
import type { SeenProposal } from "./proposals-here.ts";
import { proposalsHere } from "./proposals-here.ts";

export function ProposalsScreen() {
  const all = proposalsHere(useDesk());
  const met = words.lastMet(lastMet.value === null ? null : showMoment(lastMet.value));
  return (
    <Page title={proposalWords.title} lead={proposalWords.lead}>
      {all.length === 0 && (
        <Empty title={proposalWords.empty.title}>
          <p>{proposalWords.empty.body}</p>
        </Empty>
      )}
      <Some title={proposalWords.open} some={all.filter(({ proposal }) => proposal.answer === null)} />
      <Some title={proposalWords.answered} some={all.filter(({ proposal }) => proposal.answer !== null)} />
      <p class="quiet small">{proposalWords.asOf(met)}</p>
      <Prevail />
    </Page>
  );
}

function Some({ title, some }: { readonly title: string; readonly some: readonly SeenProposal[] }) {
  const desk = useDesk();
  const href = useHref();
  if (some.length === 0) return null;
  const { one } = proposalWords;
  return (
    <section>
      <h2>{title}</h2>
      {some.map((seen) => {
        const name = nameOf(seen.proposal.player);
        const page = pageOf(seen, desk);
        const { entry, handicap } = seen.proposal;
        return (
          <article key={entry} class="proposal" aria-labelledby={`proposal-${entry}`}>
            <h3 id={`proposal-${entry}`}>{one.title(name, handicap)}</h3>
            <ProposalView seen={seen} />
            <div class="row">
              <ProposalActions seen={seen} name={name} />
              {page !== null && (
                <ButtonLink href={href(places.member(page))}>
                  {seen.member === null ? one.page : one.card}
                  <span class="unseen">: {name}</span>
                </ButtonLink>
              )}
            </div>
          </article>
        );
      })}
    </section>
  );
}
