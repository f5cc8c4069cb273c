/** The way to what waits in a league, with how much it is: reading it takes the league's models, which a list of fixtures does not need. */
import type { Book } from "../../book/book.ts";
import { ButtonLink } from "../parts/button.tsx";
import { useHref } from "../place.ts";
import { mattersWords } from "../words/league-matters.ts";
import { leaguePlaces } from "./league-places.ts";
import { useMatters } from "./matters-screen.tsx";

export function MattersLink({ league }: { readonly league: Book }) {
  const href = useHref();
  const many = useMatters(league).length;
  return (
    <ButtonLink href={href(leaguePlaces.matters(league.id))} look={many === 0 ? "plain" : "main"}>
      {mattersWords.link(many)}
    </ButtonLink>
  );
}
