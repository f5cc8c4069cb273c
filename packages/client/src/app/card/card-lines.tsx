/** The inside of a card: one line a game, grouped by event or day. On a narrow screen each line becomes a small block. */
import type { BookState, Card, GameLine, Lineup, SetLine } from "@sward/core";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import { custodyOf, custodyOfMatch } from "../custody.ts";
import { showDay } from "../dates.ts";
import { deviceName, nameOf, useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Button } from "../parts/button.tsx";
import { mayCorrectHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { tellersOf } from "../visitors/told-by.ts";
import { cardWords, scoreWords, whyWords } from "../words/card.ts";
import { visitorWords } from "../words/visitors.ts";
import { number, playLetter, playWords, signed, words } from "../words.ts";
import type { CardOrder, LineGroup, PlacedLine } from "./card-groups.ts";
import { firstGroups, groupLines, lineKey, outcomeOf } from "./card-groups.ts";

/**
 * Lines drawn at once: some three seasons of a keen player. When all are asked for, the others follow so many at a time, each time in a
 * task of their own, so that a finger is answered between them.
 */
const AT_ONCE = 150;

export interface CardLinesProps {
  readonly card: Card;
  readonly state: BookState;
  /** A line to bring into view, by its place on the card. */
  readonly show: number | null;
}

export function CardLines({ card, state, show }: CardLinesProps) {
  const [order, setOrder] = useState<CardOrder>("newest-first");
  const [whole, setWhole] = useState(false);
  const [most, setMost] = useState(AT_ONCE);
  const all = useMemo(() => groupLines(card.lines, state.events, order), [card, state.events, order]);
  const { groups, rest } = firstGroups(all, most, show);
  const drawn = useDrawn(state, show);
  useEffect(() => {
    if (!whole || rest === 0) return;
    const next = setTimeout(() => setMost(most + AT_ONCE), 0);
    return () => clearTimeout(next);
  }, [whole, most, rest]);
  useEffect(() => {
    if (show !== null) document.getElementById(`line-${show}`)?.scrollIntoView({ block: "center" });
  }, [show]);
  return (
    <section class="no-print" aria-labelledby="card-lines">
      <div class="page-head">
        <h2 id="card-lines">{cardWords.lines.title}</h2>
        <OrderChoice order={order} choose={setOrder} />
      </div>
      {groups.length > 0 && <p class="quiet small">{cardWords.lines.sure}</p>}
      {groups.length === 0 ? (
        <p>{cardWords.lines.empty}</p>
      ) : (
        <table class="card-lines">
          <thead>
            <tr>
              <th scope="col">{cardWords.lines.date}</th>
              <th scope="col">{cardWords.lines.opponent}</th>
              <th scope="col" class="number">
                {cardWords.lines.off}
              </th>
              <th scope="col">
                <abbr title={cardWords.lines.playMeans}>{cardWords.lines.play}</abbr>
              </th>
              <th scope="col">{cardWords.lines.score}</th>
              <th scope="col" class="number">
                {cardWords.lines.points}
              </th>
              <th scope="col" class="number">
                {cardWords.lines.index}
              </th>
              <th scope="col" class="number">
                <abbr title={words.handicap}>{cardWords.lines.handicap}</abbr>
              </th>
              <th scope="col">{cardWords.lines.why}</th>
            </tr>
          </thead>
          {groups.map(drawn)}
        </table>
      )}
      {rest > 0 && (
        <Button onClick={() => setWhole(true)} disabled={whole}>
          {cardWords.lines.rest(rest)}
        </Button>
      )}
    </section>
  );
}

/** A group that is drawn already is passed over: the very same element is not looked at again. */
function useDrawn(state: BookState, show: number | null) {
  const kept = useRef(new WeakMap<LineGroup, ReturnType<typeof Group>>());
  return useMemo(() => {
    kept.current = new WeakMap();
    return (group: LineGroup) => {
      const held = kept.current.get(group) ?? <Group key={group.key} group={group} state={state} show={show} />;
      kept.current.set(group, held);
      return held;
    };
  }, [state, show]);
}

function OrderChoice({ order, choose }: { order: CardOrder; choose: (order: CardOrder) => void }) {
  return (
    <label class="row">
      <span>{cardWords.lines.order}</span>
      <select value={order} onChange={(event) => choose(event.currentTarget.value as CardOrder)}>
        <option value="newest-first">{cardWords.lines.newest}</option>
        <option value="oldest-first">{cardWords.lines.oldest}</option>
      </select>
    </label>
  );
}

function Group({ group, state, show }: { group: LineGroup; state: BookState; show: number | null }) {
  const { event } = group;
  return (
    <tbody class={event === null ? undefined : "card-in-event"}>
      {event !== null && (
        <tr class="card-event">
          <th colSpan={9} scope="rowgroup">
            {event.title} <span class="quiet">{`${showDay(event.from)} – ${showDay(event.to)}`}</span>
          </th>
        </tr>
      )}
      {group.lines.map((placed) => (
        <Line key={lineKey(placed.line)} placed={placed} state={state} shown={placed.place === show} />
      ))}
    </tbody>
  );
}

function Line({ placed: { place, line }, state, shown }: { placed: PlacedLine; state: BookState; shown: boolean }) {
  const id = `line-${place}`;
  const mark = shown ? "card-line card-line-shown" : "card-line";
  if (line.line === "set") {
    return (
      <tr id={id} class={`${mark} card-set`}>
        <td class="cell-date">{showDay(line.date)}</td>
        <td class="cell-opponent" colSpan={5}>
          {cardWords.moved(line.moved.from, line.moved.to)}
        </td>
        <td class="number cell-index">{number(line.index)}</td>
        <td class="number cell-handicap">{number(line.handicap)}</td>
        <td class="cell-why">
          {whyWords(line)} <span class="quiet">{cardWords.lines.setBy(deviceName(line.by))}</span>
          <SetCustody line={line} />
        </td>
      </tr>
    );
  }
  return (
    <tr id={id} class={line.moved === null ? mark : `${mark} card-moved`}>
      <td class="cell-date">{showDay(line.date)}</td>
      <td class="cell-opponent">
        <Opponents line={line} />
      </td>
      <td class="number cell-off">
        <span class="narrow-label">{cardWords.lines.off} </span>
        {number(line.off)}
      </td>
      <td class="cell-play">
        <abbr title={playWords[line.play]}>{playLetter[line.play]}</abbr>
      </td>
      <td class="cell-score">
        {scoreWords(line)} <span class="quiet">{cardWords.lines.outcome[outcomeOf(line)]}</span>
      </td>
      <td class="number cell-points">{signed(line.points)}</td>
      <td class="number cell-index">
        <span class="narrow-label">{cardWords.lines.index} </span>
        {number(line.index)}
      </td>
      <td class="number cell-handicap">
        <span class="narrow-label">{words.handicap} </span>
        {number(line.handicap)}
      </td>
      <td class="cell-why">
        <Why line={line} state={state} />
      </td>
    </tr>
  );
}

function Opponents({ line }: { line: GameLine }) {
  const named = ({ player, off }: Lineup) => `${nameOf(player)}\u00a0(${number(off)})`;
  return (
    <>
      {line.opponents.map(named).join(" & ")}
      {line.partner !== null && <span class="quiet"> {cardWords.lines.partner(named(line.partner))}</span>}
    </>
  );
}

function Why({ line, state }: { line: GameLine; state: BookState }) {
  const desk = useDesk();
  const href = useHref();
  const match = state.matches.get(line.match);
  const custody = custodyOfMatch([...desk.books.values()], match);
  const tellers = tellersOf(desk, match, deviceName);
  const own = match?.reports.find(({ by, origin }) => {
    const book = desk.books.get(origin);
    return book !== undefined && mayCorrectHere(book, by);
  });
  return (
    <>
      {line.moved !== null && (
        <span class="card-change">
          {cardWords.moved(line.moved.from, line.moved.to)}: {cardWords.movedWhy(line.moved.trigger, line.moved.after)}.{" "}
        </span>
      )}
      {whyWords(line)}
      {line.confirmed && <span class="card-sure"> ✓ {cardWords.lines.confirmed}</span>}{" "}
      {tellers.length > 0 && <span class="quiet">· {visitorWords.told.by(tellers)} </span>}
      {line.notice !== null && <Badge tone="warn">{cardWords.notice(line.notice.off, line.notice.record)}</Badge>}{" "}
      {custody === "here" && <Badge tone="info">{words.custody.here}</Badge>}{" "}
      {own !== undefined && (
        <a class="card-correct" href={href(places.entry, { correct: own.entry })}>
          {cardWords.lines.correct}
          <span class="unseen">: {cardWords.lines.correctWhat(showDay(line.date))}</span>
        </a>
      )}
    </>
  );
}

function SetCustody({ line }: { line: SetLine }) {
  const custody = custodyOf(useDesk().books.values(), line.entry);
  return custody === "here" ? <Badge tone="info">{words.custody.here}</Badge> : null;
}
