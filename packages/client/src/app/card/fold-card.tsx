/** The card that folds, sheet by sheet: the back stands left of the front, as it must before folding. */
import type { Card, CardLine, PlayerId, RuleSet } from "@sward/core";
import { handicapInForce } from "@sward/core";
import type { ComponentChildren } from "preact";
import { showDay, showDayPaper } from "../dates.ts";
import { deviceNameOnPaper, nameOf, shortNameOf, useDesk } from "../desk-store.ts";
import { nameOnPaper } from "../print/named-on-paper.ts";
import { Scrolled } from "../print/paper.tsx";
import { cardWords, scoreWords, whyWords } from "../words/card.ts";
import { playLetter } from "../words/play.ts";
import { printWords } from "../words/print.ts";
import { number, reasonWords, signed, words } from "../words.ts";
import { signerOf } from "./card-print.tsx";
import { planChart } from "./chart-plan.ts";
import type { FoldPanel, FoldPlan } from "./fold-plan.ts";
import { IndexChart } from "./index-chart.tsx";
import { opponentsOnPaper } from "./paper-lines.ts";

export interface FoldCardProps {
  readonly card: Card;
  readonly plan: FoldPlan;
  readonly rules: RuleSet | undefined;
}

/** In doubles the column has room for three short names. */
const nameIn = (line: CardLine) => (player: PlayerId) =>
  line.line === "game" && line.partner !== null ? shortNameOf(player) : nameOnPaper(player);

/** The longest cell of a line, by which it is told how high the row is. */
export const textOfLine = (line: CardLine): string =>
  line.line === "set"
    ? `${cardWords.moved(line.moved.from, line.moved.to)}: ${whyWords(line)}`
    : opponentsOnPaper(line, nameIn(line));

export function FoldCard({ card, plan, rules }: FoldCardProps) {
  const sides: ComponentChildren[] = [
    <Sheet
      key="outside"
      name={printWords.fold.outside}
      left={<Back card={card} rules={rules} />}
      right={<Front card={card} plan={plan} />}
    />,
  ];
  for (let at = 0; at < plan.panels.length; at += 2) {
    sides.push(
      <Sheet
        key={at}
        name={printWords.fold.pages(at + 2)}
        left={<Games card={card} plan={plan} at={at} />}
        right={<Games card={card} plan={plan} at={at + 1} />}
      />,
    );
  }
  return <>{sides}</>;
}

interface SheetProps {
  readonly name: string;
  readonly left: ComponentChildren;
  readonly right: ComponentChildren;
}

const Sheet = ({ name, left, right }: SheetProps) => (
  <Scrolled name={name}>
    <article class="paper fold-sheet">
      <div class="fold-panel">{left}</div>
      <div class="fold-panel">{right}</div>
    </article>
  </Scrolled>
);

function Front({ card, plan }: Pick<FoldCardProps, "card" | "plan">) {
  const desk = useDesk();
  const { fold } = printWords;
  const { handicap, waiting } = handicapInForce(card, desk.today());
  const last = card.signatures.at(-1);
  return (
    <>
      <header class="fold-front">
        <div>
          <p class="fold-club">{desk.club.state().name}</p>
          <p class="fold-name">{nameOf(card.player)}</p>
          <p>
            {words.index} {number(card.index)}
            {waiting !== null && `. ${cardWords.waiting(waiting.to, waiting.after)}`}
          </p>
        </div>
        <p class="fold-handicap">
          <strong>{number(handicap)}</strong>
          {cardWords.inForceOn(desk.today())}
        </p>
      </header>
      <h2>{fold.front}</h2>
      <table class="fold-table">
        <thead>
          <tr>
            <th class="fold-day">{cardWords.lines.date}</th>
            <th class="fold-figure">{words.handicap}</th>
            <th class="fold-figure">{words.index}</th>
            <th>{cardWords.print.why}</th>
            <th>{cardWords.print.signature}</th>
          </tr>
        </thead>
        <tbody>
          {plan.changes.map(({ place, date, from, to, index, line }) => (
            <tr key={place}>
              <td>{showDayPaper(date)}</td>
              <td class="number">{from === null || from === to ? number(to) : `${number(from)} → ${number(to)}`}</td>
              <td class="number">{number(index)}</td>
              <td>{line.line === "set" ? whyWords(line) : reasonWords[line.reason]}</td>
              <td>{line.line === "set" ? deviceNameOnPaper(line.by) : signerOf(card, place)}</td>
            </tr>
          ))}
          <Blank rows={plan.blankChanges} cells={5} />
        </tbody>
      </table>
      {plan.earlierChanges > 0 && <p>{fold.earlierChanges(plan.earlierChanges)}</p>}
      {last !== undefined && (
        <p>
          {fold.signedBy}: {deviceNameOnPaper(last.by)}, {showDay(last.upto)}, {words.handicap} {number(last.handicap)},{" "}
          {words.index} {number(last.index)} ({cardWords.signatures[last.standing]}).
        </p>
      )}
      <Foot />
    </>
  );
}

function Back({ card, rules }: Pick<FoldCardProps, "card" | "rules">) {
  const chart = planChart(card.lines, rules, card.handicap);
  const { fold } = printWords;
  return (
    <>
      {chart !== null && (
        <>
          <h2>{cardWords.chart.title}</h2>
          <IndexChart plan={chart} name={nameOf(card.player)} paperWidth={484} />
        </>
      )}
      {rules !== undefined && (
        <>
          <h2>{fold.triggers}</h2>
          <ul class="fold-triggers">
            {rules.triggers.map(({ handicap, trigger }) => (
              <li key={handicap}>
                <strong>{number(handicap)}</strong> <span>{number(trigger)}</span>
              </li>
            ))}
          </ul>
        </>
      )}
      <h2>{fold.back}</h2>
      {fold.howTo.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
      {rules !== undefined && (
        <p>
          {rules.title}: {rules.body}.
        </p>
      )}
      <Foot />
    </>
  );
}

/** Club, day and who prevails: below every page of A5, since a card comes apart. */
function Foot() {
  const desk = useDesk();
  return (
    <p class="fold-foot">
      {desk.club.state().name}. {cardWords.print.printed(desk.today())}. {words.prevail}
    </p>
  );
}

function Games({ card, plan, at }: { readonly card: Card; readonly plan: FoldPlan; readonly at: number }) {
  const panel: FoldPanel = plan.panels[at] ?? { lines: [], blank: 0 };
  const { fold } = printWords;
  const { lines } = cardWords;
  return (
    <>
      <h2>
        {at === 0 ? fold.inside : fold.insideGoesOn} <span class="fold-whose">{nameOf(card.player)}</span>
      </h2>
      <table class="fold-table">
        <thead>
          <tr>
            <th class="fold-day">{lines.date}</th>
            <th>{lines.opponent}</th>
            <th class="fold-narrow">{lines.opponentOff}</th>
            <th class="fold-narrow">{lines.play}</th>
            <th class="fold-narrow">{lines.score}</th>
            <th class="fold-narrow">+/−</th>
            <th class="fold-figure">{words.index}</th>
            <th class="fold-narrow">{lines.handicap}</th>
          </tr>
        </thead>
        <tbody>
          {panel.lines.map(({ line, place }) => (
            <Row key={place} line={line} />
          ))}
          <Blank rows={panel.blank} cells={8} />
        </tbody>
      </table>
      {at === 0 && plan.earlierLines > 0 && <p>{fold.earlierLines(plan.earlierLines)}</p>}
      <Foot />
    </>
  );
}

function Row({ line }: { readonly line: CardLine }) {
  if (line.line === "set") {
    return (
      <tr>
        <td>{showDayPaper(line.date)}</td>
        <td colSpan={5}>{textOfLine(line)}</td>
        <td class="number">{number(line.index)}</td>
        <td class="number">{number(line.handicap)}</td>
      </tr>
    );
  }
  return (
    <tr>
      <td>{showDayPaper(line.date)}</td>
      <td>{textOfLine(line)}</td>
      <td class="number">{line.opponents.map(({ off }) => number(off)).join(", ")}</td>
      <td>{playLetter[line.play]}</td>
      <td>{scoreWords(line)}</td>
      <td class="number">{signed(line.points)}</td>
      <td class="number">{number(line.index)}</td>
      <td class="number">{number(line.handicap)}</td>
    </tr>
  );
}

/** Rows for a pencil. */
const Blank = ({ rows, cells }: { readonly rows: number; readonly cells: number }) => (
  <>
    {Array.from({ length: rows }, (_, row) => (
      <tr key={`blank ${String(row)}`} class="fold-blank">
        {Array.from({ length: cells }, (_, cell) => (
          <td key={String(cell)} />
        ))}
      </tr>
    ))}
  </>
);
