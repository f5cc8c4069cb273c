/** Where the yearly check begins, and where a round that is under way is found again. */
import { useState } from "preact/hooks";
import "./check.css";
import { systemClock } from "../../desk/platform.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Field } from "../parts/field.tsx";
import { Page } from "../parts/page.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { cardWords } from "../words/card.ts";
import { checkWords } from "../words/check.ts";
import { words } from "../words.ts";
import type { Round, SkipMonths } from "./round.ts";
import { beginRound, cardsToCheck, skipChoices, tally } from "./round.ts";
import { placeIn, useRound } from "./use-round.ts";

export function CheckScreen() {
  const { round, keep } = useRound();
  const { club } = useDesk();
  const members = [...club.state().players.values()].filter(({ standing }) => standing === "member");
  const any = members.some(({ player }) => club.state().cards.has(player));
  return (
    <Page title={checkWords.title} lead={checkWords.lead}>
      {!mayHere(club, "card-signed") && <p class="quiet">{cardWords.mayNot.sign}</p>}
      {!any ? (
        <Empty title={checkWords.empty.title}>
          <p>{checkWords.empty.body}</p>
        </Empty>
      ) : round === null ? (
        <Start />
      ) : (
        <UnderWay round={round} putAway={() => keep(null)} />
      )}
    </Page>
  );
}

function Start() {
  const desk = useDesk();
  const { goTo } = useRound();
  const [skip, setSkip] = useState<SkipMonths>(6);
  const { start } = checkWords;
  const state = desk.club.state();
  const chosen = (months: SkipMonths) => cardsToCheck(state, nameOf, months, desk.today());
  const cards = chosen(skip);
  const begin = (event: Event): void => {
    event.preventDefault();
    if (cards.length > 0) goTo(beginRound(cards, systemClock.timestamp()));
  };
  return (
    <form onSubmit={begin}>
      <Field label={start.skip} hint={start.skipHint}>
        {(control) => (
          <select
            {...control}
            value={String(skip)}
            onChange={(event) => setSkip(Number(event.currentTarget.value) as SkipMonths)}
          >
            {skipChoices.map((months) => (
              <option key={months} value={String(months)}>
                {start.skips[months]}
              </option>
            ))}
          </select>
        )}
      </Field>
      <p role="status">{cards.length === 0 ? start.none : start.many(cards.length, chosen(0).length)}</p>
      <Button look="main" type="submit" disabled={cards.length === 0}>
        {start.begin}
      </Button>
    </form>
  );
}

function UnderWay({ round, putAway }: { readonly round: Round; readonly putAway: () => void }) {
  const href = useHref();
  const { club } = useDesk();
  const [sure, setSure] = useState(false);
  const { under, putAway: said } = checkWords;
  const player = round.cards[round.at];
  return (
    <>
      <h2>{under.title}</h2>
      <p>
        {player === undefined ? under.done : under.at(round.at + 1, round.cards.length, nameOf(player))}{" "}
        {checkWords.tally(tally(round, club.state().cards))}
      </p>
      <div class="row">
        {player !== undefined && (
          <ButtonLink look="main" href={href(placeIn(round))}>
            {under.goOn}
          </ButtonLink>
        )}
        <ButtonLink look={player === undefined ? "main" : "plain"} href={href(places.checkSummary)}>
          {under.summary}
        </ButtonLink>
        {!sure && <Button onClick={() => setSure(true)}>{said.open}</Button>}
      </div>
      {sure && (
        <div class="check-away" role="status">
          <p>{said.means}</p>
          <div class="row">
            <Button look="danger" onClick={putAway}>
              {said.button}
            </Button>
            <Button onClick={() => setSure(false)}>{words.cancel}</Button>
          </div>
        </div>
      )}
    </>
  );
}
