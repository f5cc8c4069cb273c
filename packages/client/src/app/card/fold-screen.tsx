/** The card that folds, to be looked at and printed. */
import type { PlayerId } from "@sward/core";
import { nameOf, useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import { chosen, useChoose } from "../print/options.ts";
import { PrintButton } from "../print/paper.tsx";
import { Pick } from "../print/pick.tsx";
import type { ScreenProps } from "../screen-props.ts";
import { cardWords } from "../words/card.ts";
import { printWords } from "../words/print.ts";
import { words } from "../words.ts";
import { FoldCard, textOfLine } from "./fold-card.tsx";
import { planFold } from "./fold-plan.ts";
import "./card.css";
import "../print/paper.css";
import "./fold.css";

export function FoldScreen({ params, query }: ScreenProps) {
  const desk = useDesk();
  const href = useHref();
  const player = params["player"] as PlayerId;
  const choose = useChoose(places.printCard(player), query);
  const state = desk.club.state();
  const card = state.cards.get(player);
  if (card === undefined) {
    return (
      <Page title={cardWords.notHere.title}>
        <p>{cardWords.notHere.unknown}</p>
        <p>
          <a href={href(places.members)}>{words.nav.members}</a>
        </p>
      </Page>
    );
  }
  const span = chosen(query, "games", ["year", "all"]);
  const plan = planFold(card, span, desk.today(), textOfLine);
  const { fold } = printWords;
  return (
    <Page title={fold.title(nameOf(player))} lead={fold.lead} actions={<PrintButton />}>
      <div class="paper-options no-print">
        <Pick
          label={fold.which}
          value={span}
          options={[
            ["year", cardWords.print.year],
            ["all", cardWords.print.all],
          ]}
          onChoose={(games) => choose({ games })}
        />
        <p role="status">{fold.sheets(Math.ceil((plan.panels.length / 2 + 1) / 2))}</p>
        <p>
          <a class="button" href={href(places.member(player))}>
            {nameOf(player)}
          </a>
        </p>
      </div>
      <FoldCard card={card} plan={plan} rules={rulesOnDay(state, desk.today())} />
    </Page>
  );
}
