/** Where an entry is that was written here; nothing of one that was not. */
import type { Custody } from "../../book/book.ts";
import { custodyWords } from "../words/play.ts";
import { Badge } from "./badge.tsx";

export const CustodyBadge = ({ custody }: { readonly custody: Custody | null }) =>
  custody === null ? null : <Badge tone={custody === "relay" ? "good" : "plain"}>{custodyWords[custody]}</Badge>;
