/** The rules of a league: read by everybody, set by its secretary. */
import type { BookId, LeagueReading, RulesInForce } from "@sward/core";
import { leagueRulesOn } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { mayHere } from "../permission.ts";
import { PaperHead } from "../print/paper.tsx";
import type { ScreenProps } from "../screen-props.ts";
import { rulesFormWords as said } from "../words/league-rules-form.ts";
import { LeagueMissing } from "./league-missing.tsx";
import { useReading } from "./reading-here.ts";
import { RulesEditor } from "./rules-editor.tsx";
import { RulesSheet } from "./rules-sheet.tsx";
import "./rules.css";

export function LeagueRulesScreen({ params }: Pick<ScreenProps, "params">) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  return league === undefined || league.state().as === null ? (
    <LeagueMissing title={said.title} known={league !== undefined} />
  ) : (
    <RulesOf league={league} />
  );
}

function RulesOf({ league }: { readonly league: Book }) {
  const today = useDesk().today();
  const reading = useReading(league);
  const [editing, setEditing] = useState(false);
  const maySet = mayHere(league, "league-rules-set");
  const present = inForce(reading, today);
  const { name } = league.state();
  return (
    <Page
      title={said.title}
      lead={name}
      actions={present !== undefined && !editing && <Button onClick={() => print()}>{said.print}</Button>}
    >
      <PaperHead club={name} title={present?.rules.title ?? said.title} date={today} />
      {reading.league.unreadable.length > 0 && <Notice tone="warn" title={said.unreadable} />}
      {present === undefined && !editing && (
        <Empty title={said.none.title}>
          <p>{maySet ? said.none.secretary : said.none.others}</p>
        </Empty>
      )}
      {editing ? (
        <RulesEditor league={league} present={present ?? null} close={() => setEditing(false)} />
      ) : (
        <>
          {maySet ? (
            <p class="no-print rules-set">
              <Button look={present === undefined ? "main" : "plain"} onClick={() => setEditing(true)}>
                {present === undefined ? said.set : said.change}
              </Button>
            </p>
          ) : (
            <p class="quiet no-print">{said.secretaryOnly}</p>
          )}
          {present !== undefined && (
            <>
              <h2>{present.rules.title}</h2>
              <p class="quiet">{said.inForce(present.from)}</p>
              <RulesSheet rules={present.rules} />
              <Others rules={reading.league.rules} present={present} />
            </>
          )}
        </>
      )}
      <Prevail />
    </Page>
  );
}

const inForce = ({ league }: LeagueReading, today: string): RulesInForce | undefined => {
  const rules = leagueRulesOn(league, today);
  return league.rules.find((one) => one.rules === rules);
};

function Others({ rules, present }: { readonly rules: readonly RulesInForce[]; readonly present: RulesInForce }) {
  const others = rules.filter((one) => one !== present);
  if (others.length === 0) return null;
  return (
    <section class="no-print">
      <h3>{said.others}</h3>
      <ul>
        {others.map(({ entry, from, rules: { title } }) => (
          <li key={entry}>{from > present.from ? said.later(title, from) : said.earlier(title, from)}</li>
        ))}
      </ul>
    </section>
  );
}
