/** Below a member's card: the code other clubs know the player by, and other entries that are the same person. */
import "./visitors.css";
import type { Player } from "@sward/core";
import { LinksSection } from "./links-section.tsx";
import { PlayerCode } from "./player-code.tsx";

export const MemberPart = ({ person }: { readonly person: Player }) => (
  <>
    <LinksSection person={person} />
    <PlayerCode player={person.player} />
  </>
);
