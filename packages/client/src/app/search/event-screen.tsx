/** An event and the matches entered for it: where a found event leads. */
import type { BookState, EventId, Match } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { gamesWords, sideWords } from "../attention/accounts.ts";
import { showDay } from "../dates.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { Page } from "../parts/page.tsx";
import type { ScreenProps } from "../screen-props.ts";
import { occasionWords } from "../words/play.ts";
import { searchWords } from "../words/search.ts";
import { words } from "../words.ts";

export function EventScreen({ params }: ScreenProps) {
  const desk = useDesk();
  const id = params["event"] as EventId;
  const book = [desk.club, ...desk.leagues].find((one) => one.state().events.has(id));
  const event = book?.state().events.get(id);
  if (book === undefined || event === undefined) {
    return (
      <Page title={words.notFound.title}>
        <p>{searchWords.event.notHere}</p>
      </Page>
    );
  }
  const { lead, matches: heading, none } = searchWords.event;
  const matches = matchesOf(book.state(), id);
  return (
    <Page title={event.title} lead={lead(showDay(event.from), showDay(event.to), occasionWords[event.occasion])}>
      <h2>{heading}</h2>
      {matches.length === 0 ? <p>{none}</p> : <Matches matches={matches} />}
    </Page>
  );
}

function Matches({ matches }: { readonly matches: readonly Match[] }) {
  const { columns, disputed } = searchWords.event;
  return (
    <div class="scroll-x">
      <table>
        <thead>
          <tr>
            <th scope="col">{columns.day}</th>
            <th scope="col">{columns.players}</th>
            <th scope="col">{columns.score}</th>
          </tr>
        </thead>
        <tbody>
          {matches.map((match) => {
            const facts = match.facts ?? match.reports[0]?.facts;
            if (facts === undefined) return null;
            return (
              <tr key={match.key}>
                <td>{showDay(facts.date)}</td>
                <td>{facts.sides.map((side) => sideWords(side, nameOf)).join(` ${words.versus} `)}</td>
                <td>{match.status === "held" ? disputed : gamesWords(facts.games)}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
    </div>
  );
}

const matchesOf = (state: BookState, event: EventId): readonly Match[] =>
  [...state.matches.values()]
    .filter((match) => match.event === event)
    .sort(
      (a, b) =>
        byCodeUnits(a.reports[0]?.facts.date ?? "", b.reports[0]?.facts.date ?? "") ||
        byCodeUnits(a.start ?? "", b.start ?? "") ||
        byCodeUnits(a.key, b.key),
    );
