/** Handicaps as clubs state them in a league: ours to state in one press, the others' with who said so and when. */
import type { BookId, PlayedOffOther } from "@sward/core";
import { playedOffOthers } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { setOn } from "../../league/save.ts";
import type { Message } from "../../messages.ts";
import { showDay } from "../dates.ts";
import { deviceName, nameOf, useDesk, version } from "../desk-store.ts";
import { rootTold } from "../devices/root-told.ts";
import { Badge } from "../parts/badge.tsx";
import { Button } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import type { ScreenProps } from "../screen-props.ts";
import { matchWords } from "../words/match.ts";
import { statementsWords as said } from "../words/statements.ts";
import { number } from "../words.ts";
import { LeagueMissing } from "./league-missing.tsx";
import { saveChecked, useReading } from "./reading-here.ts";
import { ownClub } from "./slots.ts";
import type { ClubStatements, StatedLine } from "./statements-view.ts";
import { changesSomething, statementsByClub, statementsDue, strokesShown } from "./statements-view.ts";
import "./statements.css";

export function StatementsScreen({ params }: Pick<ScreenProps, "params">) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  return league === undefined || league.state().as === null ? (
    <LeagueMissing title={said.title} known={league !== undefined} />
  ) : (
    <StatementsOf league={league} />
  );
}

function StatementsOf({ league }: { readonly league: Book }) {
  const desk = useDesk();
  const day = desk.today();
  const { statements } = useReading(league);
  const own = ownClub(league);
  const here = { league: league.state(), club: desk.club.state(), own, statements, day };
  const clubs = useMemo(() => statementsByClub(here, nameOf), [league, day, version.value]);
  return (
    <Page title={said.title} lead={said.lead}>
      {clubs.length === 0 && <Empty title={said.none}>{null}</Empty>}
      {clubs.map((club) => (
        <ClubTable key={club.club} league={league} club={club} isOurs={club.club === own} day={day} />
      ))}
      <OffOthers league={league} />
      <Prevail />
    </Page>
  );
}

interface ClubTableProps {
  readonly league: Book;
  readonly club: ClubStatements;
  readonly isOurs: boolean;
  readonly day: string;
}

function ClubTable({ league, club: { name, lines }, isOurs, day }: ClubTableProps) {
  return (
    <section aria-label={name}>
      <h2>
        {name} {isOurs && <Badge>{said.ours}</Badge>}
      </h2>
      {lines.length === 0 ? (
        <p class="quiet">{said.nobody}</p>
      ) : (
        <table class="stated">
          <caption class="unseen">{name}</caption>
          <thead>
            <tr>
              <th scope="col">{said.head.player}</th>
              <th scope="col">{said.head.handicap}</th>
              <th scope="col">{said.head.index}</th>
              <th scope="col">{said.head.asOf}</th>
              <th scope="col">{said.head.by}</th>
              {isOurs && <th scope="col">{said.head.card}</th>}
            </tr>
          </thead>
          <tbody>
            {lines.map((line) => (
              <Line key={line.player} league={league} line={line} isOurs={isOurs} />
            ))}
          </tbody>
        </table>
      )}
      {isOurs && <State league={league} lines={lines} day={day} />}
    </section>
  );
}

interface LineProps {
  readonly league: Book;
  readonly line: StatedLine;
  readonly isOurs: boolean;
}

function Line({ league, line: { player, stated, card, isDue }, isOurs }: LineProps) {
  return (
    <tr>
      <th scope="row">{nameOf(player)}</th>
      <td class="stated-number" data-label={said.head.handicap}>
        {stated === null ? said.notStated : number(stated.handicap)}
      </td>
      <td class="stated-number" data-label={said.head.index}>
        {stated === null ? "" : number(stated.index)}
      </td>
      <td data-label={said.head.asOf}>{stated === null ? "" : showDay(stated.on)}</td>
      <td data-label={said.head.by} class="quiet small">
        {stated === null ? "" : said.by(rootTold(league, stated.by) ?? deviceName(stated.by), stated.at)}
      </td>
      {isOurs && (
        <td data-label={said.head.card}>
          {card === null ? "" : isDue ? <strong>{said.card(card.handicap, card.index)}</strong> : said.same}
        </td>
      )}
    </tr>
  );
}

interface StateProps {
  readonly league: Book;
  readonly lines: readonly StatedLine[];
  readonly day: string;
}

function State({ league, lines, day }: StateProps) {
  const [refused, setRefused] = useState<Message | null>(null);
  const due = statementsDue(lines, day);
  if (due.length === 0) return lines.some(({ card }) => card !== null) ? <p>{said.allStated}</p> : null;
  return (
    <>
      <p>{said.due(due.length)}</p>
      <Refused message={refused} />
      {mayHere(league, "handicap-stated") ? (
        <Button look="main" onClick={() => void saveChecked(league, due, said.saved(due.length), day).then(setRefused)}>
          {said.state(due.length)}
        </Button>
      ) : (
        <p class="quiet">{said.mayNot}</p>
      )}
    </>
  );
}

function OffOthers({ league }: { readonly league: Book }) {
  const { statements } = useReading(league);
  const found = useMemo(() => {
    const state = league.state();
    return playedOffOthers(state, statements, (day) => setOn(state.rules, day));
  }, [league, statements]);
  return (
    <section aria-label={said.offOthers.title}>
      <h2>{said.offOthers.title}</h2>
      <p class="quiet">{said.offOthers.lead}</p>
      {found.length === 0 && <p>{said.offOthers.none}</p>}
      {found.map((one) => (
        <OffOther key={one.match} one={one} />
      ))}
    </section>
  );
}

function OffOther({ one }: { readonly one: PlayedOffOther }) {
  const { strokes, games, players, facts } = one;
  const joined = (ways: readonly string[]): string => ways.join(said.offOthers.or);
  return (
    <article class="stated-other">
      <h3>
        {showDay(one.date)}: {matchWords(facts, nameOf)}
      </h3>
      <ul>
        {players.map(({ player, off, stated }) => (
          <li key={player}>{said.offOthers.who(nameOf(player), off, stated.handicap, stated.on)}</li>
        ))}
        {strokes !== null && (
          <li>{said.offOthers.strokes(joined(strokesShown(strokes.was)), joined(strokesShown(strokes.would)))}</li>
        )}
        {games.map(({ game, was, would }) => (
          <li key={game}>{said.offOthers.points(game, was, would)}</li>
        ))}
      </ul>
      {!changesSomething(one) && <p>{said.offOthers.nothing}</p>}
    </article>
  );
}
