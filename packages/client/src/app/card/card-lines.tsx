/** The inside of a card: one line a game, grouped by event or day. On a narrow screen each line becomes a small block. */
import type { BookState, Card, GameLine } from "@sward/core";
import type { RefObject } from "preact";
import { useEffect, useMemo, useRef, useState } from "preact/hooks";
import type { Desk } from "../../desk/desk.ts";
import { showDay } from "../dates.ts";
import { useDesk, version } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { untold, useOutOfSight } from "../parts/below.tsx";
import { Button } from "../parts/button.tsx";
import type { Kept } from "../parts/passed-over.ts";
import { passOver } from "../parts/passed-over.ts";
import { places, useHref } from "../place.ts";
import { cardWords, scoreWords, whyWords } from "../words/card.ts";
import { custodyWords, playLetter, playWords } from "../words/play.ts";
import { visitorWords } from "../words/visitors.ts";
import { number, signed, words } from "../words.ts";
import type { CardOrder, LineGroup, PlacedLine } from "./card-groups.ts";
import { firstGroups, groupLines, lineKey, outcomeOf } from "./card-groups.ts";
import type { LineFacts, ReadGroup } from "./line-facts.ts";
import { areSameGroups, factsReader, readGroups } from "./line-facts.ts";

/**
 * Lines drawn at once: a season of a keen player. Every line that is there is laid out and painted again with each game told late, and a
 * phone takes half a millisecond for one.
 */
const AT_ONCE = 48;
/** When all are asked for, the others follow so many at a time, each time in a task of their own, so that a finger is answered between them. */
const MORE = 150;

export interface CardLinesProps {
  readonly card: Card;
  readonly state: BookState;
  /** A line to bring into view, by its place on the card. */
  readonly show: number | null;
}

/** With each change what is in sight is read again; what is not, when the screen has been drawn. */
export function CardLines({ card, state, show }: CardLinesProps) {
  const desk = useDesk();
  const now = useMemo(() => ({ desk, card, state, show }), [desk, card, state, show, version.value]);
  const { place, shown } = useOutOfSight(now);
  return useMemo(() => <Lines {...shown} place={place} />, [shown]);
}

interface LinesProps extends CardLinesProps {
  readonly desk: Desk;
  readonly place: RefObject<HTMLElement | null>;
}

function Lines({ desk, card, state, show, place }: LinesProps) {
  const [order, setOrder] = useState<CardOrder>("newest-first");
  const [whole, setWhole] = useState(false);
  const [most, setMost] = useState(AT_ONCE);
  const all = useMemo(() => groupLines(card.lines, state.events, order), [card, state.events, order]);
  const { groups, rest } = firstGroups(all, most, show);
  const drawn = useDrawn(groups, { desk, state, show });
  useEffect(() => {
    if (!whole || rest === 0) return;
    const next = setTimeout(() => setMost(most + MORE), 0);
    return () => clearTimeout(next);
  }, [whole, most, rest]);
  useEffect(() => {
    if (show !== null) document.getElementById(`line-${show}`)?.scrollIntoView({ block: "center" });
  }, [show]);
  return (
    <section ref={place} class="no-print" aria-labelledby="card-lines">
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
          {drawn}
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

/** Groups that say what they said are passed over. */
function useDrawn(groups: readonly LineGroup[], { desk, state, show }: Pick<LinesProps, "desk" | "state" | "show">) {
  const kept = useRef<ReadonlyMap<string, Kept<ReadGroup, ReturnType<typeof Group>>>>(new Map());
  const read = untold(() => readGroups(groups, factsReader(desk, state), show));
  kept.current = passOver(kept.current, read, areSameGroups, (key, one) => <Group key={key} {...one} />);
  return [...kept.current.values()].map(({ element }) => element);
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

function Group({ group, facts, show }: ReadGroup) {
  const { event } = group;
  const href = useHref();
  return (
    <tbody class={event === null ? undefined : "card-in-event"}>
      {event !== null && (
        <tr class="card-event">
          <th colSpan={9} scope="rowgroup">
            {event.title} <span class="quiet">{`${showDay(event.from)} – ${showDay(event.to)}`}</span>
          </th>
        </tr>
      )}
      {group.lines.map((placed, at) => (
        <Line
          key={lineKey(placed.line)}
          placed={placed}
          facts={facts[at] as LineFacts}
          shown={placed.place === show}
          href={href}
        />
      ))}
    </tbody>
  );
}

interface LineProps {
  readonly placed: PlacedLine;
  readonly facts: LineFacts;
  readonly shown: boolean;
  readonly href: ReturnType<typeof useHref>;
}

function Line({ placed: { place, line }, facts, shown, href }: LineProps) {
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
          {whyWords(line)} <span class="quiet">{facts.who}</span>
          <Here facts={facts} />
        </td>
      </tr>
    );
  }
  return (
    <tr id={id} class={line.moved === null ? mark : `${mark} card-moved`}>
      <td class="cell-date">{showDay(line.date)}</td>
      <td class="cell-opponent">
        {facts.who}
        {facts.partner !== null && <span class="quiet"> {cardWords.lines.partner(facts.partner)}</span>}
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
        <Why line={line} facts={facts} href={href} />
      </td>
    </tr>
  );
}

function Why({ line, facts, href }: { line: GameLine; facts: LineFacts; href: LineProps["href"] }) {
  const { tellers, correct } = facts;
  return (
    <>
      {line.moved !== null && (
        <span class="card-change">
          {cardWords.moved(line.moved.from, line.moved.to)}: {cardWords.movedWhy(line.moved.trigger, line.moved.after)}.{" "}
        </span>
      )}
      {whyWords(line)}
      {line.confirmed && <span class="card-sure"> ✓ {cardWords.lines.confirmed}</span>}{" "}
      {tellers !== "" && <span class="quiet">· {visitorWords.told.by(tellers.split("\n"))} </span>}
      {line.notice !== null && <Badge tone="warn">{cardWords.notice(line.notice.off, line.notice.record)}</Badge>}{" "}
      <Here facts={facts} />{" "}
      {correct !== null && (
        <a class="card-correct" href={href(places.entry, { correct })}>
          {cardWords.lines.correct}
          <span class="unseen">: {cardWords.lines.correctWhat(showDay(line.date))}</span>
        </a>
      )}
    </>
  );
}

const Here = ({ facts }: { facts: LineFacts }) => (facts.here ? <Badge tone="info">{custodyWords.here}</Badge> : null);
