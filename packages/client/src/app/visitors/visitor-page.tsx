/** A visitor: from where, off what, the games here, and who it is at home. Stands where a member's card would. */
import "./visitors.css";
import type { Match, MatchFacts, Player, PlayerId } from "@sward/core";
import { gamesWords, sideWords } from "../attention/accounts.ts";
import { showDay, showMoment } from "../dates.ts";
import { deviceName, lastMet, nameOf, useDesk } from "../desk-store.ts";
import { clubName } from "../entry/people.ts";
import { lazyPart } from "../lazy.tsx";
import { Badge } from "../parts/badge.tsx";
import { Numeral } from "../parts/numeral.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import { PersonProposals } from "../proposals/person-proposals.tsx";
import { visitorWords } from "../words/visitors.ts";
import { words } from "../words.ts";
import { factsOf, fromSideOf, matchesOf } from "./link-preview.ts";
import { LinksSection } from "./links-section.tsx";
import { statedOf } from "./stated.ts";
import { tellersOf, toldBy } from "./told-by.ts";
import type { VisitedDesk } from "./visited-desk.ts";

const PersonSection = lazyPart(() => import("../person/person-section.tsx"), "PersonSection");

const SlipOut = lazyPart(() => import("../slips/slip-out.tsx"), "SlipOut");

export function VisitorPage({ visitor }: { readonly visitor: Player }) {
  const desk = useDesk();
  const href = useHref();
  const { player, home } = visitor;
  const club = clubName(home, desk.leagues) ?? statedOf(desk, visitor)[0]?.club ?? null;
  const matches = [...matchesOf(desk.club.state(), player)].reverse();
  return (
    <Page title={nameOf(player)} lead={visitorWords.lead(club)}>
      <p>{visitorWords.card}</p>
      <Handicap visitor={visitor} matches={matches} />
      <section aria-labelledby="visitor-games">
        <h2 id="visitor-games">{visitorWords.games.title}</h2>
        {matches.length === 0 ? <p>{visitorWords.games.none}</p> : <Games matches={matches} player={player} />}
      </section>
      <PersonProposals person={visitor} handicap={handicapOf(desk, visitor, matches) ?? 0} />
      <LinksSection person={visitor} />
      {matches.length > 0 && <SlipOut player={player} />}
      <PersonSection player={player} />
      <Prevail />
      <p>
        <a href={href(places.members)}>{visitorWords.home}</a>
      </p>
    </Page>
  );
}

function Handicap({ visitor, matches }: { readonly visitor: Player; readonly matches: readonly Match[] }) {
  const desk = useDesk();
  const { stated } = visitorWords;
  const said = statedOf(desk, visitor);
  const last = lastFacts(matches);
  const off = offIn(last, visitor);
  const value = handicapOf(desk, visitor, matches);
  const met = words.lastMet(lastMet.value === null ? null : showMoment(lastMet.value));
  return (
    <section aria-labelledby="visitor-handicap">
      <h2 id="visitor-handicap">{stated.title}</h2>
      <div class="row visitor-handicap">
        {value !== null && <Numeral value={value} />}
        <div>
          {said.map(({ entry, club, handicap, on, league }) => (
            <p key={entry}>{stated.by(club, handicap, on, league)}</p>
          ))}
          {last !== null && off !== undefined && <p>{stated.seen(off, last.date)}</p>}
          {value === null && <p>{stated.none}</p>}
          <p class="quiet small">{stated.asOf(met)}</p>
        </div>
      </div>
    </section>
  );
}

function Games({ matches, player }: { readonly matches: readonly Match[]; readonly player: PlayerId }) {
  const { games } = visitorWords;
  return (
    <table class="visitor-games">
      <thead>
        <tr>
          <th scope="col">{games.day}</th>
          <th scope="col">{games.who}</th>
          <th scope="col">{games.score}</th>
          <th scope="col">{games.told}</th>
        </tr>
      </thead>
      <tbody>
        {matches.map((match) => (
          <Game key={match.key} match={match} player={player} />
        ))}
      </tbody>
    </table>
  );
}

function Game({ match, player }: { readonly match: Match; readonly player: PlayerId }) {
  const desk = useDesk();
  const { games } = visitorWords;
  const told = factsOf(match);
  const [first] = match.reports;
  if (told === null || first === undefined) return null;
  const facts = fromSideOf(told, player);
  const several = tellersOf(desk, match, deviceName);
  return (
    <tr>
      <td>{showDay(facts.date)}</td>
      <td>{facts.sides.map((side) => sideWords(side, nameOf)).join(` ${words.versus} `)}</td>
      <td>
        {gamesWords(facts.games)} {match.status === "held" && <Badge tone="warn">{games.held}</Badge>}
        {match.status === "void" && <Badge tone="warn">{games.void}</Badge>}
        {match.status === "waiting" && <Badge tone="info">{games.waiting}</Badge>}
      </td>
      <td class="quiet">{(several.length > 0 ? several : [toldBy(desk, first, deviceName)]).join("; ")}</td>
    </tr>
  );
}

const lastFacts = (matches: readonly Match[]): MatchFacts | null =>
  matches.find(({ facts }) => facts !== null)?.facts ?? null;

const offIn = (facts: MatchFacts | null, { player }: Player): number | undefined =>
  facts?.sides.flat().find((seat) => seat.player === player)?.off;

/** As stated by the home club, else as last played here. */
const handicapOf = (desk: VisitedDesk, visitor: Player, matches: readonly Match[]): number | null =>
  statedOf(desk, visitor)[0]?.handicap ?? offIn(lastFacts(matches), visitor) ?? null;
