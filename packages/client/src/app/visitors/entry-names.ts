/**
 * An entry of a person by the name that was written for that very id, and a piece of the id where that is needed to tell it from the
 * others: once two ids are linked, either would be called by the person's name.
 */
import type { PlayerId } from "@sward/core";
import type { NamedDesk } from "../names.ts";
import { nameIn } from "../names.ts";
import { visitorWords } from "../words/visitors.ts";

export function entryName(desk: NamedDesk, id: PlayerId): string {
  for (const { roster } of [desk.club, ...desk.leagues]) {
    const own = roster.get(id)?.name;
    if (own !== undefined) return `${own} (${visitorWords.links.code(id)})`;
  }
  return nameIn({ club: withoutLinks(desk.club), leagues: desk.leagues.map(withoutLinks) }, id);
}

const withoutLinks = ({ roster }: NamedDesk["club"]): NamedDesk["club"] => ({
  roster,
  state: () => ({ players: new Map() }),
});
