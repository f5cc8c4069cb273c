/** The tables of the rules a club has adopted, to read and to print. */
import type { RuleSet } from "@sward/core";
import { useLocation } from "preact-iso";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Field } from "../parts/field.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import { PaperHead } from "../print/paper.tsx";
import type { ScreenProps } from "../screen-props.ts";
import { tablesWords } from "../words/tables.ts";
import { ExchangeMatrix } from "./exchange-matrix.tsx";
import { Counting, Effective, Gaps, OlderScale, Points, Sources, Starting, Strokes, Triggers } from "./rule-tables.tsx";
import type { AdoptedSet } from "./tables-model.ts";
import { adoptedSets, chosenSet, games } from "./tables-model.ts";
import "./tables.css";

export function TablesScreen({ query }: Pick<ScreenProps, "query">) {
  const desk = useDesk();
  const adopted = adoptedSets(desk.club.state(), desk.today());
  const chosen = chosenSet(adopted, query["set"]);
  if (chosen === undefined) {
    return (
      <Page title={tablesWords.title}>
        <Empty title={tablesWords.none.title}>
          <p>{tablesWords.none.body}</p>
        </Empty>
      </Page>
    );
  }
  return (
    <Page
      title={tablesWords.title}
      lead={tablesWords.lead}
      actions={chosen.set !== undefined && <Button onClick={() => window.print()}>{tablesWords.print}</Button>}
    >
      {adopted.length > 1 && <Which adopted={adopted} chosen={chosen} />}
      {chosen.set === undefined ? (
        <Empty title={tablesWords.unknown.title}>
          <p>{tablesWords.unknown.body(chosen.id)}</p>
        </Empty>
      ) : (
        <Tables set={chosen.set} adopted={chosen} />
      )}
    </Page>
  );
}

interface WhichProps {
  readonly adopted: readonly AdoptedSet[];
  readonly chosen: AdoptedSet;
}

function Which({ adopted, chosen }: WhichProps) {
  const { route } = useLocation();
  const href = useHref();
  return (
    <div class="no-print">
      <Field label={tablesWords.which}>
        {(control) => (
          <select
            {...control}
            value={String(adopted.indexOf(chosen))}
            onChange={(event) => route(href(places.tables, { set: event.currentTarget.value }), true)}
          >
            {adopted.map((one, at) => (
              <option key={`${one.id} ${one.from}`} value={String(at)}>
                {tablesWords.adopted(one)}
              </option>
            ))}
          </select>
        )}
      </Field>
    </div>
  );
}

function Tables({ set, adopted }: { readonly set: RuleSet; readonly adopted: AdoptedSet }) {
  const desk = useDesk();
  return (
    <div class="tables">
      <PaperHead club={desk.club.state().name} title={`${tablesWords.title}: ${set.title}`} date={desk.today()} />
      <p>
        <strong>{tablesWords.adopted(adopted)}.</strong> {tablesWords.body(set.body)} {tablesWords.notKnown}
      </p>
      <Triggers set={set} />
      <Points set={set} />
      {games.map(({ game }) => (
        <ExchangeMatrix key={game} set={set} game={game} />
      ))}
      <Effective set={set} />
      <Counting set={set} />
      <Strokes set={set} />
      <Starting set={set} />
      <OlderScale set={set} />
      <Gaps set={set} />
      <Sources set={set} />
      <Prevail />
    </div>
  );
}
