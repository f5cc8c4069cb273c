/** One proposal as both sides read it: who, what, why, the games it rests on, and the answer. */
import "./proposals.css";
import type { Card, KeyId } from "@sward/core";
import { handicapInForce } from "@sward/core";
import type { ComponentChildren } from "preact";
import { showMoment } from "../dates.ts";
import { deviceName, useDesk } from "../desk-store.ts";
import { statedOf } from "../visitors/stated.ts";
import { knownAs } from "../visitors/visited-desk.ts";
import { proposalWords } from "../words/proposals.ts";
import { lineOf, readGrounds } from "./evidence.ts";
import type { SeenProposal } from "./proposals-here.ts";

const { one } = proposalWords;

export function ProposalView({ seen }: { readonly seen: SeenProposal }) {
  const desk = useDesk();
  const { proposal, member, home } = seen;
  const { reason, games } = readGrounds(proposal.reason);
  const card = member === null ? undefined : desk.club.state().cards.get(member);
  const { answer } = proposal;
  return (
    <>
      <p>{one.by(whoIn(seen, proposal), proposal.on, showMoment(proposal.at))}</p>
      <p>{one.reason(reason)}</p>
      {games.length > 0 && (
        <>
          <p class="proposal-games">{one.games}</p>
          <ul>
            {games.map((game) => (
              <li key={`${game.day} ${game.score}`}>
                {one.game(game.day, game.score.replaceAll("-", "–"))}
                {card !== undefined && <span class="quiet"> ({onCard(card, game)})</span>}
              </li>
            ))}
          </ul>
        </>
      )}
      <StandsNow seen={seen} card={card} />
      {answer === null ? (
        <p>{member !== null ? one.waitsHere : home === null ? one.waitsLeague : one.waits(home)}</p>
      ) : (
        <p>
          <strong>{(answer.accepts ? one.accepted : one.declined)(whoIn(seen, answer), showMoment(answer.at))}</strong>{" "}
          {one.reason(answer.reason)}
        </p>
      )}
    </>
  );
}

function StandsNow({
  seen,
  card,
}: {
  readonly seen: SeenProposal;
  readonly card: Card | undefined;
}): ComponentChildren {
  const desk = useDesk();
  if (card !== undefined) return <p>{one.now(handicapInForce(card, desk.today()).handicap, card.index)}</p>;
  const league = desk.leagues.find(({ id }) => id === seen.book)?.state();
  const person = league?.players.get(seen.proposal.player);
  const stated = person === undefined ? undefined : statedOf(desk, person)[0];
  return stated === undefined ? null : <p>{one.stated(stated.handicap, stated.club, stated.on)}</p>;
}

function onCard(card: Card, game: Parameters<typeof lineOf>[1]): string {
  const line = lineOf(card.lines, game);
  return line === null ? one.notOnCard : one.onCard(line.index, line.handicap);
}

interface Said {
  readonly by: KeyId;
  readonly club: KeyId | null;
}

/** In a league the club, in a club's book the device. */
function whoIn({ book, league }: SeenProposal, { by, club }: Said): string {
  const desk = useDesk();
  if (league === null) return deviceName(by);
  const state = desk.leagues.find(({ id }) => id === book)?.state();
  const named = club === null ? undefined : state?.clubs.get(club)?.name;
  return named === undefined ? one.ofLeague(league) : one.inLeague(named, league);
}

/** The page of whom a proposal is about, at this club. */
export function pageOf({ proposal, member }: SeenProposal, { club }: ReturnType<typeof useDesk>) {
  return member ?? knownAs(club.state(), proposal.player);
}
