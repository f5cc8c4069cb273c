/** The year's report of the club. */
import type { ComponentChildren } from "preact";
import { showDayPaper } from "../dates.ts";
import { useDesk } from "../desk-store.ts";
import { clubNameIn } from "../league/fixture-list.tsx";
import { Page } from "../parts/page.tsx";
import { places } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { occasionWords, playWords } from "../words/play.ts";
import { printWords } from "../words/print.ts";
import { number, words } from "../words.ts";
import type { PaperName } from "./named-on-paper.ts";
import { namedOnPaper } from "./named-on-paper.ts";
import { chosenNumber, useChoose } from "./options.ts";
import { Paper, PrintButton } from "./paper.tsx";
import { Pick } from "./pick.tsx";
import type { ClubYear, YearReport } from "./year-report.ts";
import { leagueYear, yearAt, yearReport, yearsOf } from "./year-report.ts";
import "./lists.css";

const MONTHS = Array.from({ length: 12 }, (_, at) => at + 1);

export function ReportScreen({ query }: ScreenProps) {
  const desk = useDesk();
  const state = desk.club.state();
  const choose = useChoose(places.printReport, query);
  const begins = chosenNumber(query, "begins", { from: 1, to: 12, usual: 1 });
  const years = yearsOf(state, desk.today(), begins);
  const year = years.find(({ name }) => name === query["year"]) ?? yearAt(desk.today(), begins);
  const report = yearReport(state, year);
  const { report: said } = printWords;
  return (
    <Page title={said.title} lead={said.lead} actions={<PrintButton />}>
      <div class="paper-options no-print">
        <Pick
          label={said.year}
          value={year.name}
          options={years.map(({ name }) => [name, name])}
          onChoose={(next) => choose({ year: next })}
        />
        <Pick
          label={said.begins}
          value={String(begins)}
          options={MONTHS.map((month) => [String(month), said.month(month)])}
          onChoose={(next) => choose({ begins: next, year: null })}
        />
      </div>
      <Paper title={said.sheetTitle(year.name)} lead={said.counts(year.from, year.until)}>
        <Counts report={report} />
        <Leagues year={year} />
        <Most report={report} named={namedOnPaper(desk)} />
        <Changes report={report} named={namedOnPaper(desk)} />
      </Paper>
    </Page>
  );
}

interface OfReport {
  readonly report: YearReport;
}

const Facts = ({ title, rows }: { readonly title: string; readonly rows: readonly (readonly [string, number])[] }) => (
  <section class="paper-keep">
    <h3>{title}</h3>
    <dl class="report-facts">
      {rows.map(([said, many]) => [<dt key={said}>{said}</dt>, <dd key={`${said}.`}>{number(many)}</dd>])}
    </dl>
  </section>
);

function Counts({ report }: OfReport) {
  const { report: said } = printWords;
  const { members, changes } = report;
  const down = changes.filter(({ from, to }) => to < from).length;
  return (
    <div class="report-columns">
      <div>
        <Facts
          title={said.games}
          rows={[
            [said.matches, report.matches],
            [said.gamesPlayed, report.games],
            [said.singles, report.singles],
            [said.doubles, report.doubles],
            [said.play(playWords.handicap), report.play.handicap],
            [said.play(playWords.level), report.play.level],
            ...report.formats.flatMap(([format, many]) => (many === 0 ? [] : [[words.points(format), many] as const])),
            ...(report.open > 0 ? [[said.open, report.open] as const] : []),
          ]}
        />
        <Facts
          title={said.people}
          rows={[
            [said.members, members.now],
            [said.membersPlayed, members.played],
            [said.started, members.started],
            [said.visitors, report.visitors],
          ]}
        />
      </div>
      <div>
        <Facts title={said.occasions} rows={report.occasions.map(([name, many]) => [occasionWords[name], many])} />
        <Facts
          title={said.months}
          rows={report.months.flatMap(([month, many]) => (many === 0 ? [] : [[said.month(month), many] as const]))}
        />
        <Facts
          title={said.changes}
          rows={[
            [said.down, down],
            [said.up, changes.length - down],
            [said.set, changes.filter(({ set }) => set).length],
          ]}
        />
      </div>
    </div>
  );
}

interface Named extends OfReport {
  readonly named: (player: YearReport["most"][number]["player"]) => PaperName;
}

function Most({ report, named }: Named) {
  const { report: said } = printWords;
  if (report.most.length === 0) return <p>{said.none}</p>;
  return (
    <Listed title={said.most} heads={[said.name]} numbers={[said.gamesPlayed]}>
      {report.most.map(({ player, games }) => (
        <tr key={player}>
          <td>{named(player).name}</td>
          <td class="number">{games}</td>
        </tr>
      ))}
    </Listed>
  );
}

function Changes({ report, named }: Named) {
  const { report: said } = printWords;
  if (report.changes.length === 0) return null;
  return (
    <Listed title={said.changesList} heads={[said.name, said.date, said.how]} numbers={[said.from, said.to]}>
      {report.changes.map(({ player, date, from, to, set }) => (
        <tr key={`${player} ${date} ${to}`}>
          <td>{named(player).name}</td>
          <td>{showDayPaper(date)}</td>
          <td>{set ? said.bySetting : said.byGames}</td>
          <td class="number">{number(from)}</td>
          <td class="number">{number(to)}</td>
        </tr>
      ))}
    </Listed>
  );
}

function Leagues({ year }: { readonly year: ClubYear }) {
  const { leagues } = useDesk();
  const { report: said } = printWords;
  return (
    <>
      {leagues.map((league) => {
        const found = leagueYear(league, year);
        if (found === null) return null;
        return (
          <Listed
            key={league.id}
            title={found.name}
            heads={[said.date, said.rival, said.where]}
            numbers={[said.won, said.lost, said.notDecided]}
          >
            {found.fixtures.map(({ fixture, rival, home, won, lost, open }) => (
              <tr key={fixture.fixture}>
                <td>{showDayPaper(fixture.date)}</td>
                <td>{clubNameIn(league)(rival)}</td>
                <td>{home ? said.atHome : said.away}</td>
                <td class="number">{won}</td>
                <td class="number">{lost}</td>
                <td class="number">{open}</td>
              </tr>
            ))}
          </Listed>
        );
      })}
    </>
  );
}

interface ListedProps {
  readonly title: string;
  readonly heads: readonly string[];
  /** Heads of the columns of figures, which come last. */
  readonly numbers: readonly string[];
  readonly children: ComponentChildren;
}

const Listed = ({ title, heads, numbers, children }: ListedProps) => (
  <section>
    <h3>{title}</h3>
    <table class="report-list">
      <thead>
        <tr>
          {heads.map((head) => (
            <th key={head} scope="col">
              {head}
            </th>
          ))}
          {numbers.map((head) => (
            <th key={head} scope="col" class="number">
              {head}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>{children}</tbody>
    </table>
  </section>
);
