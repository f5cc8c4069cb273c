/**
 * What is found beside the matters of the first view, from the states of the books: proposals to answer, visitors who may be
 * somebody the club or a league knows, and people written down with two homes. Pure; names are handed in, and who was said to be two people.
 */
import type { SeenProposal } from "../proposals/proposals-here.ts";
import { proposalsHere } from "../proposals/proposals-here.ts";
import type { TwoHomes } from "../visitors/homes.ts";
import { twoHomesIn } from "../visitors/homes.ts";
import type { NameOf, Suggestion } from "../visitors/suggestions.ts";
import { isLikely, suggestionsFor } from "../visitors/suggestions.ts";
import type { VisitedDesk } from "../visitors/visited-desk.ts";
import { proposalWords } from "../words/proposals.ts";
import { visitorWords } from "../words/visitors.ts";
import type { FurtherGroup, FurtherMatter } from "./further.ts";

export type FurtherFound =
  | { readonly what: "may-be"; readonly suggestion: Suggestion }
  | { readonly what: "two-homes"; readonly homes: TwoHomes }
  | { readonly what: "proposal"; readonly seen: SeenProposal };

/** Two ids in a form of their own, whichever is named first. */
export const pairOf = ({ player, to }: Pick<Suggestion, "player" | "to">): string => [player, to].sort().join(" ");

/** @param apart pairs that somebody has said are two people */
export function furtherGroups(desk: VisitedDesk, nameOf: NameOf, apart: ReadonlySet<string>): readonly FurtherGroup[] {
  if (desk.club.state().as === null) return [];
  const found = [...mayBe(desk, nameOf, apart), ...twoHomes(desk)];
  const { peopleTitle: title, peopleLead: lead } = visitorWords.matters;
  const groups: readonly FurtherGroup[] = [
    { name: "proposals", said: proposalWords.matters, matters: proposals(desk) },
    { name: "people", said: { title, lead }, matters: found },
  ];
  return groups.filter(({ matters }) => matters.length > 0);
}

/** Those that wait for this club, or for the league whose device this is. */
const proposals = (desk: VisitedDesk): readonly FurtherMatter[] =>
  proposalsHere(desk)
    .filter(({ ours, proposal }) => ours && proposal.answer === null)
    .map((seen) => ({
      about: "further",
      key: `proposal ${seen.proposal.entry}`,
      found: { what: "proposal", seen },
    }));

/** The best for each visitor; of two visitors who may be one, once. */
function mayBe(desk: VisitedDesk, nameOf: NameOf, apart: ReadonlySet<string>): readonly FurtherMatter[] {
  const asked = new Set<string>();
  return suggestionsFor(desk, nameOf).flatMap((suggestion): FurtherMatter[] => {
    const pair = pairOf(suggestion);
    if (!isLikely(suggestion) || apart.has(pair) || asked.has(suggestion.player) || asked.has(pair)) return [];
    asked.add(suggestion.player).add(pair);
    return [{ about: "further", key: `may-be ${pair}`, found: { what: "may-be", suggestion } }];
  });
}

const twoHomes = (desk: VisitedDesk): readonly FurtherMatter[] =>
  twoHomesIn(desk).map((homes) => ({
    about: "further",
    key: `two-homes ${homes.player}`,
    found: { what: "two-homes", homes },
  }));
