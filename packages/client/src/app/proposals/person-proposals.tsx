/** On a player's page: what was proposed for this player, with the answers, and the way to propose. */
import "./proposals.css";
import type { Player } from "@sward/core";
import { useState } from "preact/hooks";
import { showMoment } from "../dates.ts";
import { lastMet, nameOf, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Button } from "../parts/button.tsx";
import { proposalWords } from "../words/proposals.ts";
import { words } from "../words.ts";
import { ProposalActions } from "./proposal-actions.tsx";
import { ProposalView } from "./proposal-view.tsx";
import { proposalsAbout, whereToPropose } from "./proposals-here.ts";

const ProposeDialog = lazyPart(() => import("./propose-dialog.tsx"), "ProposeDialog");

export interface PersonProposalsProps {
  readonly person: Player;
  /** What a proposal starts from. */
  readonly handicap: number;
}

export function PersonProposals({ person, handicap }: PersonProposalsProps) {
  const desk = useDesk();
  const [open, setOpen] = useState(false);
  const found = proposalsAbout(desk, person);
  const where = whereToPropose(desk, person).filter(({ may }) => may);
  const visitor = person.standing === "visitor";
  if (found.length === 0 && where.length === 0 && !visitor) return null;
  const { one, propose } = proposalWords;
  const name = nameOf(person.player);
  const met = words.lastMet(lastMet.value === null ? null : showMoment(lastMet.value));
  return (
    <section class="no-print" aria-labelledby="person-proposals">
      <h2 id="person-proposals">{proposalWords.title}</h2>
      {found.map((seen) => (
        <article key={seen.proposal.entry} class="proposal" aria-labelledby={`proposal-${seen.proposal.entry}`}>
          <h3 id={`proposal-${seen.proposal.entry}`}>{one.title(name, seen.proposal.handicap)}</h3>
          <ProposalView seen={seen} />
          <div class="row">
            <ProposalActions seen={seen} name={name} />
          </div>
        </article>
      ))}
      {found.length > 0 && <p class="quiet small">{proposalWords.asOf(met)}</p>}
      {where.length > 0 ? (
        <p>
          <Button onClick={() => setOpen(true)}>{propose.button}</Button>
        </p>
      ) : (
        visitor && <p class="quiet">{propose.noLeague}</p>
      )}
      {open && <ProposeDialog person={person} handicap={handicap} where={where} onClose={() => setOpen(false)} />}
    </section>
  );
}
