/**
 * Names for paper that leaves the club's hands (the notice board, a match sheet, a card shown elsewhere): as the club writes them, and
 * those under eighteen by their short name only, which is what it is for. A person's own card has that person's own full name: it is
 * shown by the one it is about.
 */
import type { PlayerId } from "@sward/core";
import { useDesk } from "../desk-store.ts";
import type { NamedDesk } from "../names.ts";
import { nameIn, rosterRecordOf, shortNameIn } from "../names.ts";

export interface PaperName {
  readonly name: string;
  readonly short: string;
}

export const namedOnPaper =
  (desk: NamedDesk) =>
  (player: PlayerId): PaperName => {
    const short = shortNameIn(desk, player);
    const junior = rosterRecordOf(desk, player)?.junior === true;
    return { name: junior ? short : nameIn(desk, player), short };
  };

/** The same for one name, where a component is drawn. */
export const nameOnPaper = (player: PlayerId): string => namedOnPaper(useDesk())(player).name;
