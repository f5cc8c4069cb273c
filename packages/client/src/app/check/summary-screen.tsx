/** What came of the yearly check, card by card: to look at, and to print for the committee. */
import type { BookState, PlayerId } from "@sward/core";
import { handicapInForce } from "@sward/core";
import "./check.css";
import { showMoment } from "../dates.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import type { Tone } from "../parts/tone.ts";
import { places, useHref } from "../place.ts";
import { checkWords } from "../words/check.ts";
import { number } from "../words.ts";
import type { Outcome, Round } from "./round.ts";
import { findingsOf, outcomeOf, tally } from "./round.ts";
import { useRound } from "./use-round.ts";

const tones: Readonly<Record<Outcome, Tone>> = { signed: "good", left: "info", open: "warn", gone: "plain" };

export function SummaryScreen() {
  const { round } = useRound();
  const href = useHref();
  const desk = useDesk();
  const state = desk.club.state();
  const { summary } = checkWords;
  if (round === null) {
    return (
      <Page title={summary.title}>
        <p>{checkWords.notInRound.body}</p>
        <ButtonLink href={href(places.check)}>{checkWords.notInRound.back}</ButtonLink>
      </Page>
    );
  }
  const { columns } = summary;
  return (
    <Page
      title={summary.title}
      lead={
        <>
          {summary.lead(showMoment(round.begun))} {checkWords.tally(tally(round, state.cards))}
        </>
      }
      actions={
        <>
          <Button onClick={() => window.print()}>{summary.print}</Button>
          <ButtonLink href={href(places.check)}>{checkWords.title}</ButtonLink>
        </>
      }
    >
      <p class="print-only">{summary.printed(desk.today(), state.name)}</p>
      <table class="check-summary">
        <thead>
          <tr>
            <th scope="col">{columns.name}</th>
            <th scope="col" class="number">
              {columns.handicap}
            </th>
            <th scope="col" class="number">
              {columns.index}
            </th>
            <th scope="col" class="number">
              {columns.games}
            </th>
            <th scope="col">{columns.outcome}</th>
            <th scope="col">{columns.note}</th>
          </tr>
        </thead>
        <tbody>
          {round.cards.map((player) => (
            <SummaryRow key={player} player={player} round={round} state={state} today={desk.today()} />
          ))}
        </tbody>
      </table>
      <Prevail />
    </Page>
  );
}

interface SummaryRowProps {
  readonly player: PlayerId;
  readonly round: Round;
  readonly state: BookState;
  readonly today: string;
}

function SummaryRow({ player, round, state, today }: SummaryRowProps) {
  const href = useHref();
  const { columns } = checkWords.summary;
  const card = state.cards.get(player);
  const outcome = outcomeOf(round, player, card);
  const was = round.was[player];
  const now = card === undefined ? undefined : handicapInForce(card, today).handicap;
  return (
    <tr>
      <th scope="row">
        <a href={href(places.checkCard(player))}>{nameOf(player)}</a>
      </th>
      <td class="number">
        <span class="narrow-label">{columns.handicap} </span>
        {now === undefined
          ? "–"
          : was === undefined || was === now
            ? number(now)
            : checkWords.summary.changed(was, now)}
      </td>
      <td class="number">
        <span class="narrow-label">{columns.index} </span>
        {card === undefined ? "–" : number(card.index)}
      </td>
      <td class="number">
        {card === undefined ? "–" : findingsOf(card, state, today).games}
        <span class="narrow-label"> {columns.gamesShort}</span>
      </td>
      <td>
        <Badge tone={tones[outcome]}>{checkWords.summary.outcomes[outcome]}</Badge>
      </td>
      <td class="check-note-cell">{round.notes[player] ?? ""}</td>
    </tr>
  );
}
