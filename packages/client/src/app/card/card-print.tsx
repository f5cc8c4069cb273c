/**
 * The card on paper: front (changes and signatures) and inside (one line a game), in black and white, for A4 and A5 alike, since it
 * takes its size from the sheet. Columns in the order a paper card has them, own score first.
 */
import type { Card, CardLine } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { monthsBefore, showDayPaper, showMoment } from "../dates.ts";
import { deviceNameOnPaper, nameOf, useDesk } from "../desk-store.ts";
import { nameOnPaper } from "../print/named-on-paper.ts";
import { cardWords, scoreWords, whyWords } from "../words/card.ts";
import { playLetter } from "../words/play.ts";
import { number, reasonWords, signed, words } from "../words.ts";
import { changesOf, lineKey } from "./card-groups.ts";
import { opponentsOnPaper, signatureOf } from "./paper-lines.ts";

export interface CardPrintProps {
  readonly card: Card;
  readonly which: "year" | "all";
}

export function CardPrint({ card, which }: CardPrintProps) {
  const desk = useDesk();
  const today = desk.today();
  const { print } = cardWords;
  const since = which === "all" ? "" : monthsBefore(today, 12);
  const lines = card.lines.filter(({ date }) => which === "all" || (date > since && date <= today));
  return (
    <div class="print-only print-card">
      <header class="print-head">
        <div>
          <p class="print-name">{nameOf(card.player)}</p>
          <p>{desk.club.state().name}</p>
        </div>
        <p>
          {words.handicap} <strong>{number(handicapInForce(card, today).handicap)}</strong>, {words.index}{" "}
          <strong>{number(card.index)}</strong>
          <br />
          {print.printed(today)}
        </p>
      </header>
      <h2>{print.front}</h2>
      <Front card={card} />
      <h2>{print.inside}</h2>
      <table>
        <thead>
          <tr>
            <th class="print-day">{cardWords.lines.date}</th>
            <th>{cardWords.lines.opponent}</th>
            <th class="number">{cardWords.lines.opponentOff}</th>
            <th>{cardWords.lines.play}</th>
            <th>{cardWords.lines.score}</th>
            <th class="number">+/−</th>
            <th class="number">{words.index}</th>
            <th class="number">{cardWords.lines.handicap}</th>
          </tr>
        </thead>
        <tbody>
          {lines.map((line) => (
            <PrintLine key={lineKey(line)} line={line} />
          ))}
        </tbody>
      </table>
      <p class="print-foot">{words.prevail}</p>
    </div>
  );
}

function Front({ card }: { readonly card: Card }) {
  const { print } = cardWords;
  return (
    <>
      <table>
        <thead>
          <tr>
            <th>{cardWords.lines.date}</th>
            <th>{print.change}</th>
            <th class="number">{words.index}</th>
            <th>{print.why}</th>
            <th>{print.signature}</th>
          </tr>
        </thead>
        <tbody>
          {changesOf(card.lines).map(({ place, date, from, to, index, line }) => (
            <tr key={lineKey(line)}>
              <td class="print-day">{showDayPaper(date)}</td>
              <td>{cardWords.moved(from, to)}</td>
              <td class="number">{number(index)}</td>
              <td>{line.line === "set" ? whyWords(line) : reasonWords[line.reason]}</td>
              <td>{line.line === "set" ? deviceNameOnPaper(line.by) : signerOf(card, place)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {card.signatures.map(({ entry, by, at, upto, handicap, index, standing }) => (
        <p key={entry}>
          {cardWords.signatures.line(deviceNameOnPaper(by), showMoment(at), upto, handicap, index)}{" "}
          {cardWords.signatures[standing]}
        </p>
      ))}
    </>
  );
}

/** Who signed a line off, in words. */
export function signerOf(card: Card, place: number): string {
  const signature = signatureOf(card, place);
  return signature === null ? cardWords.print.notSigned : deviceNameOnPaper(signature.by);
}

function PrintLine({ line }: { readonly line: CardLine }) {
  if (line.line === "set") {
    return (
      <tr>
        <td class="print-day">{showDayPaper(line.date)}</td>
        <td colSpan={5}>
          {cardWords.moved(line.moved.from, line.moved.to)}: {whyWords(line)}
        </td>
        <td class="number">{number(line.index)}</td>
        <td class="number">{number(line.handicap)}</td>
      </tr>
    );
  }
  return (
    <tr>
      <td class="print-day">{showDayPaper(line.date)}</td>
      <td>{opponentsOnPaper(line, nameOnPaper)}</td>
      <td class="number">{line.opponents.map(({ off }) => number(off)).join(", ")}</td>
      <td>{playLetter[line.play]}</td>
      <td>{scoreWords(line)}</td>
      <td class="number">{signed(line.points)}</td>
      <td class="number">{number(line.index)}</td>
      <td class="number">{number(line.handicap)}</td>
    </tr>
  );
}
