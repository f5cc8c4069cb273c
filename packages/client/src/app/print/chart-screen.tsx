/** A card's chart on a sheet of its own: the index against the trigger points, and the changes below it. */
import type { PlayerId } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { ChangesTable } from "../card/changes-table.tsx";
import { planChart } from "../card/chart-plan.ts";
import { IndexChart } from "../card/index-chart.tsx";
import { showDayLong } from "../dates.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { cardWords } from "../words/card.ts";
import { printWords } from "../words/print.ts";
import { number, words } from "../words.ts";
import { Paper, PrintButton } from "./paper.tsx";
import "../card/card.css";
import "./chart.css";

/** Pixels of the drawing; on paper it is as wide as the sheet. */
const WIDE = 1000;

export function ChartScreen({ params }: ScreenProps) {
  const desk = useDesk();
  const href = useHref();
  const player = params["player"] as PlayerId;
  const state = desk.club.state();
  const card = state.cards.get(player);
  const today = desk.today();
  const plan = card === undefined ? null : planChart(card.lines, rulesOnDay(state, today), card.handicap);
  if (card === undefined || plan === null) {
    return (
      <Page title={cardWords.chart.title}>
        <p>{printWords.chart.none}</p>
        <p>
          <a href={href(places.members)}>{words.nav.members}</a>
        </p>
      </Page>
    );
  }
  const name = nameOf(player);
  const { handicap } = handicapInForce(card, today);
  return (
    <Page title={printWords.chart.title(name)} actions={<PrintButton />}>
      <p class="no-print">
        <a href={href(places.member(player))}>{name}</a>
      </p>
      <Paper
        shape="wide"
        title={printWords.chart.title(name)}
        lead={`${words.handicap} ${number(handicap)}, ${words.index} ${number(card.index)}, ${showDayLong(today)}`}
      >
        <IndexChart plan={plan} name={name} paperWidth={WIDE} />
        <ChangesTable lines={card.lines} class="chart-changes" />
      </Paper>
    </Page>
  );
}
