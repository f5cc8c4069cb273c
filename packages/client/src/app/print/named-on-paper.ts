/**
 * Names for paper that hangs where anybody passes: as the club writes them, and those under eighteen by their short name only, which
 * is what it is for. A sheet that only the players hold has everybody's full name.
 */
import type { PlayerId } from "@sward/core";
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
