/** The handicap list for the notice board. */
import { showDayLong, showDayPaper } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { places } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { printWords } from "../words/print.ts";
import { number, words } from "../words.ts";
import { handicapList } from "./handicap-list.ts";
import { namedOnPaper } from "./named-on-paper.ts";
import { chosen, useChoose } from "./options.ts";
import { Paper, PrintButton } from "./paper.tsx";
import { Pick } from "./pick.tsx";
import { wallPeople } from "./wall-plan.ts";
import "./lists.css";

export function HandicapsScreen({ query }: ScreenProps) {
  const desk = useDesk();
  const state = desk.club.state();
  const today = desk.today();
  const choose = useChoose(places.printHandicaps, query);
  const order = chosen(query, "by", ["name", "handicap"]);
  const { list, wall } = printWords;
  const rows = handicapList(wallPeople(state, namedOnPaper(desk), today), state.cards, today, order);
  if (rows.length === 0) {
    return (
      <Page title={list.title}>
        <Empty title={wall.nobody.title}>
          <p>{wall.nobody.body}</p>
        </Empty>
      </Page>
    );
  }
  const without = [...state.players.values()].filter(
    ({ player, standing }) => standing === "member" && !state.cards.has(player),
  ).length;
  return (
    <Page title={list.title} lead={list.lead} actions={<PrintButton />}>
      <div class="paper-options no-print">
        <Pick
          label={list.order}
          value={order}
          options={[
            ["name", list.byName],
            ["handicap", list.byHandicap],
          ]}
          onChoose={(by) => choose({ by })}
        />
      </div>
      {without > 0 && <p class="no-print">{list.without(without)}</p>}
      <Paper title={list.sheetTitle} lead={list.asOf(showDayLong(today))}>
        <table class="list-handicaps">
          <thead>
            <tr>
              <th scope="col">{list.name}</th>
              <th scope="col" class="number">
                {words.handicap}
              </th>
              <th scope="col">{list.since}</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ player, name, handicap, since, waiting }) => (
              <tr key={player}>
                <th scope="row">{name}</th>
                <td class="number list-off">{number(handicap)}</td>
                <td>
                  {since === null ? "" : showDayPaper(since)}
                  {waiting !== null && `; ${list.becomes(waiting.to, showDayPaper(waiting.after))}`}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </Paper>
    </Page>
  );
}
