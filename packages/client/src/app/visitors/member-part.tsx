/** Below a member's card: changes that were proposed, the code other clubs know the player by, and other entries that are the same person. */
import "./visitors.css";
import type { Player } from "@sward/core";
import { PersonProposals } from "../proposals/person-proposals.tsx";
import { LinksSection } from "./links-section.tsx";
import { PlayerCode } from "./player-code.tsx";

export const MemberPart = ({ person, handicap }: { readonly person: Player; readonly handicap: number }) => (
  <>
    <PersonProposals person={person} handicap={handicap} />
    <LinksSection person={person} />
    <PlayerCode player={person.player} />
  </>
);
