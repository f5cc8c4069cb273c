/** What this device last knew, while the record is being read: the first screen, the list of members and the front of a card. */
import type { PlayerId } from "@sward/core";
import { useLocation } from "preact-iso";
import "./last-known.css";
import { systemClock } from "../../desk/platform.ts";
import { showDayNear, showMoment } from "../dates.ts";
import { lastKnown } from "../desk-store.ts";
import type { RollRow } from "../members/roll.ts";
import { sortByName } from "../members/roll.ts";
import { RollTable } from "../members/roll-table.tsx";
import { Empty } from "../parts/empty.tsx";
import { Notice } from "../parts/notice.tsx";
import { Numeral } from "../parts/numeral.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { paramsOf, placeOf, places, useHref } from "../place.ts";
import { attentionWords } from "../words/attention.ts";
import { cardWords } from "../words/card.ts";
import { lastKnownWords } from "../words/last-known.ts";
import { membersWords } from "../words/members.ts";
import { number } from "../words.ts";
import type { ShownLastKnown } from "./kept.ts";
import { rowOn } from "./last-known.ts";

export function LastKnownScreen() {
  const known = lastKnown.value;
  const place = placeOf(useLocation().path);
  if (known === null) return null;
  const rows = rowsOf(known);
  const player = paramsOf("members/:player", place)?.["player"];
  const row = rows.find((one) => one.player === player);
  const reading = <Reading known={known} />;
  if (row !== undefined) return <CardHead row={row} reading={reading} />;
  if (place === places.members) return <Members rows={rows} reading={reading} />;
  if (place === places.attention) return <ToDo known={known} rows={rows} reading={reading} />;
  return (
    <>
      {reading}
      <p>{lastKnownWords.elsewhere}</p>
    </>
  );
}

function rowsOf({ rows, named }: ShownLastKnown): readonly RollRow[] {
  const today = systemClock.today();
  return sortByName(
    rows.map((row) => {
      const record = named.get(row.player);
      const { name = lastKnownWords.unnamed, short = name, junior = false } = record ?? {};
      return rowOn(row, today, { name, short, junior });
    }),
  );
}

const Reading = ({ known }: { readonly known: ShownLastKnown }) => (
  <Notice tone="info" title={lastKnownWords.title(showMoment(known.at))} live>
    <label>
      {lastKnownWords.body(known.entries)} <progress />
    </label>
  </Notice>
);

interface PartProps {
  readonly rows: readonly RollRow[];
  readonly reading: ReturnType<typeof Reading>;
}

function Members({ rows, reading }: PartProps) {
  const of = (standing: RollRow["standing"]) => rows.filter((row) => row.standing === standing);
  const around = { today: systemClock.today(), leagues: [] };
  return (
    <Page title={membersWords.title} lead={membersWords.lead(of("member").length, of("visitor").length)}>
      {reading}
      <RollTable rows={of("member")} kind="member" {...around} />
      {of("visitor").length > 0 && (
        <section aria-labelledby="visitors">
          <h2 id="visitors">{membersWords.visitors}</h2>
          <RollTable rows={of("visitor")} kind="visitor" {...around} />
        </section>
      )}
      <Prevail />
    </Page>
  );
}

/** More names than this and how many more there are is enough. */
const MOST_NAMED = 6;

function ToDo({ known, rows, reading }: PartProps & { readonly known: ShownLastKnown }) {
  const names = new Map(rows.map(({ player, short }): [PlayerId, string] => [player, short]));
  const href = useHref();
  // Whoever has no row here is another club's, whose name its league's record knows.
  const groups = known.groups.map((group) => ({ ...group, players: group.players.filter((one) => names.has(one)) }));
  return (
    <Page title={attentionWords.title}>
      {reading}
      {known.groups.length === 0 && <Empty title={lastKnownWords.none} />}
      {groups.map(({ title, count, players }) => (
        <section key={title}>
          <h2>
            {title} <span class="tab-count">{count}</span>
          </h2>
          <ul class="last-known-names">
            {players.slice(0, MOST_NAMED).map((player) => (
              <li key={player}>
                <a href={href(places.member(player))}>{names.get(player)}</a>
              </li>
            ))}
            {players.length > MOST_NAMED && <li class="quiet">{lastKnownWords.more(players.length - MOST_NAMED)}</li>}
          </ul>
        </section>
      ))}
      <Prevail />
    </Page>
  );
}

function CardHead({ row, reading }: { readonly row: RollRow; readonly reading: PartProps["reading"] }) {
  const { name, handicap, index, waiting, games, last } = row;
  return (
    <Page title={name}>
      {reading}
      <div class="card-front">
        {handicap !== null && <Numeral value={handicap} large label={cardWords.inForce} />}
        {index !== null && (
          <div class="card-index">
            <span class="card-index-value">{number(index)}</span>
            <span class="numeral-label">{cardWords.index}</span>
          </div>
        )}
        <div>
          {waiting !== null && <p>{cardWords.waiting(waiting.to, waiting.after)}</p>}
          <p>
            {lastKnownWords.games(games)}. {membersWords.columns.last}:{" "}
            {last === null ? membersWords.never : showDayNear(last, systemClock.today())}.
          </p>
        </div>
      </div>
      <Prevail />
    </Page>
  );
}
