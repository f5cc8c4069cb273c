/** A proposal to answer, among the things to do. */
import { MatterBox } from "../attention/matter.tsx";
import { nameOf, useDesk } from "../desk-store.ts";
import { ButtonLink } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { proposalWords } from "../words/proposals.ts";
import { ProposalActions } from "./proposal-actions.tsx";
import { ProposalView, pageOf } from "./proposal-view.tsx";
import type { SeenProposal } from "./proposals-here.ts";

export function ProposalMatter({ seen }: { readonly seen: SeenProposal }) {
  const href = useHref();
  const page = pageOf(seen, useDesk());
  const { one } = proposalWords;
  const name = nameOf(seen.proposal.player);
  return (
    <MatterBox
      title={one.title(name, seen.proposal.handicap)}
      actions={
        <>
          <ProposalActions seen={seen} name={name} />
          {page !== null && (
            <ButtonLink href={href(places.member(page))}>
              {one.card}
              <span class="unseen">: {name}</span>
            </ButtonLink>
          )}
        </>
      }
    >
      <ProposalView seen={seen} />
    </MatterBox>
  );
}
