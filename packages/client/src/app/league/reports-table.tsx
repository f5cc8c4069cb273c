/** The reports of one slot side by side; what they differ in is marked in words, not by colour alone. */
import type { FactName, KeyId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { deviceName, nameOf, useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { CustodyBadge } from "../parts/custody-badge.tsx";
import { factsShown, factWords, leagueWords } from "../words/league.ts";
import type { ClubReport } from "./slots.ts";

export interface ReportsTableProps {
  readonly reports: readonly ClubReport[];
  readonly differs: readonly FactName[];
  readonly league: Book;
  readonly clubName: (club: KeyId) => string;
}

export function ReportsTable({ reports, differs, league, clubName }: ReportsTableProps) {
  const desk = useDesk();
  return (
    <div class="reports">
      {reports.map(({ report, club, facts }) => {
        const custody = league.custody(report.entry);
        const known = [league, desk.club].some(({ roster }) => roster.get(report.by) !== undefined);
        const title = leagueWords.reportBy(
          club === null ? leagueWords.theLeague : clubName(club),
          known ? deviceName(report.by) : null,
        );
        return (
          <section key={report.entry} class="report" aria-label={title}>
            <h3>
              {title} <CustodyBadge custody={custody} />
            </h3>
            <dl>
              {factsShown(reports, differs).map((fact) => (
                <div key={fact} class={differs.includes(fact) ? "fact fact-differs" : "fact"}>
                  <dt>
                    {leagueWords.factNames[fact]}{" "}
                    {differs.includes(fact) && <Badge tone="warn">{leagueWords.differsHere}</Badge>}
                  </dt>
                  <dd>{factWords(fact, facts, nameOf)}</dd>
                </div>
              ))}
            </dl>
          </section>
        );
      })}
    </div>
  );
}
