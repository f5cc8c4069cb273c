/** The league's table with every reason beside it, to read and to pin up. */
import type { BookId, Earned, KeyId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { showDayShort } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import { PaperHead } from "../print/paper.tsx";
import type { ScreenProps } from "../screen-props.ts";
import { tableWords as said } from "../words/league-table.ts";
import { clubNameIn } from "./fixture-list.tsx";
import { LeagueMissing } from "./league-missing.tsx";
import { leaguePlaces } from "./league-places.ts";
import { useReading } from "./reading-here.ts";
import type { FixtureLine, TableView } from "./table-view.ts";
import { tableAsOf, viewTable } from "./table-view.ts";
import "./table.css";

export function LeagueTableScreen({ params }: Pick<ScreenProps, "params">) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  return league === undefined || league.state().as === null ? (
    <LeagueMissing title={said.title} known={league !== undefined} />
  ) : (
    <TableOf league={league} />
  );
}

function TableOf({ league }: { readonly league: Book }) {
  const today = useDesk().today();
  const href = useHref();
  const reading = useReading(league);
  const nameOf = clubNameIn(league);
  const view = viewTable(reading, nameOf, today);
  const { name, clubs } = league.state();
  if (view === null || clubs.size === 0) {
    const none = clubs.size === 0 ? said.noClubs : said.noRules;
    return (
      <Page title={said.title} lead={name}>
        <Empty title={none.title}>
          <p>{none.body}</p>
          <ButtonLink href={href(clubs.size === 0 ? leaguePlaces.clubs(league.id) : leaguePlaces.rules(league.id))}>
            {none.link}
          </ButtonLink>
        </Empty>
      </Page>
    );
  }
  return (
    <Page
      title={said.title}
      lead={said.lead(name, reading.rules?.title ?? "")}
      actions={<Button onClick={() => print()}>{said.print}</Button>}
    >
      <PaperHead club={name} title={said.title} date={today} />
      <p class="quiet">{said.asOf(tableAsOf(league.counted()), league.waiting())}</p>
      <Rows view={view} nameOf={nameOf} />
      <section class="standings-part">
        <h2>{said.why.title}</h2>
        {view.why.length === 0 ? <p>{said.why.nothing}</p> : <Lines lines={view.why} />}
      </section>
      {view.earnedFor.length > 1 && <PointsFor view={view} nameOf={nameOf} />}
      <section class="standings-part">
        <h2>{said.leftOut.title}</h2>
        {view.leftOut.length === 0 && <p>{said.leftOut.nothing}</p>}
        <Fixtures league={league} lines={view.leftOut} />
        {view.ahead > 0 && <p>{said.leftOut.ahead(view.ahead)}</p>}
      </section>
      <section class="standings-part">
        <h2>{said.counted.title}</h2>
        {view.counted.length === 0 && <p>{said.counted.nothing}</p>}
        <Fixtures league={league} lines={view.counted} />
      </section>
      <Prevail />
    </Page>
  );
}

interface ViewProps {
  readonly view: TableView;
  readonly nameOf: (club: KeyId) => string;
}

const sums = ["played", "won", "drawn", "lost", "points"] as const;

const Rows = ({ view, nameOf }: ViewProps) => (
  // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard.
  <section class="scroll-x" tabIndex={0} aria-label={said.title}>
    <table class="standings">
      <caption class="unseen">{said.caption}</caption>
      <thead>
        <tr>
          <th scope="col" class="number">
            <Head column="place" />
          </th>
          <th scope="col">{said.columns.club}</th>
          {sums.map((column) => (
            <th key={column} scope="col" class="number">
              <Head column={column} />
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {view.rows.map((row) => (
          <tr key={row.club}>
            <td class="number">{said.place(row.place, row.shared)}</td>
            <th scope="row">
              {nameOf(row.club)}
              <span class="standings-more quiet small">{said.forAgainst(row.games, row.hoops)}</span>
            </th>
            {sums.map((column) => (
              <td key={column} class={column === "points" ? "number standings-points" : "number"}>
                {row[column]}
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  </section>
);

/** In full, or where space is short by the letters that tables have. */
const Head = ({ column }: { readonly column: keyof typeof said.letters }) => (
  <>
    <span class="standings-long">{said.columns[column]}</span>
    <span class="standings-short" aria-hidden="true">
      {said.letters[column]}
    </span>
  </>
);

const PointsFor = ({ view, nameOf }: ViewProps) => (
  <section class="standings-part">
    <h2>{said.points.title}</h2>
    {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by the keyboard. */}
    <section class="scroll-x" tabIndex={0} aria-label={said.points.title}>
      <table class="standings">
        <thead>
          <tr>
            <th scope="col">{said.columns.club}</th>
            {view.earnedFor.map((part: keyof Earned) => (
              <th key={part} scope="col" class="number">
                {said.points.for[part]}
              </th>
            ))}
            <th scope="col" class="number">
              {said.points.total}
            </th>
          </tr>
        </thead>
        <tbody>
          {view.rows.map(({ club, earned, points }) => (
            <tr key={club}>
              <th scope="row">{nameOf(club)}</th>
              {view.earnedFor.map((part) => (
                <td key={part} class="number">
                  {earned[part]}
                </td>
              ))}
              <td class="number standings-points">{points}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  </section>
);

const Lines = ({ lines }: { readonly lines: readonly string[] }) => (
  <ol class="standings-why">
    {lines.map((line) => (
      <li key={line}>{line}</li>
    ))}
  </ol>
);

function Fixtures({ league, lines }: { readonly league: Book; readonly lines: readonly FixtureLine[] }) {
  const href = useHref();
  return (
    <ul class="standings-fixtures">
      {lines.map(({ fixture, day, told, why }) => (
        <li key={fixture}>
          <span class="fixture-day">{showDayShort(day)}</span>{" "}
          <a href={href(places.fixture(league.id, fixture))}>{told}</a>
          {why.map((sentence) => (
            <p key={sentence} class="quiet small">
              {sentence}
            </p>
          ))}
        </li>
      ))}
    </ul>
  );
}
