/** One slot of a fixture: how it stands, what each club reports, and what this device can do about it. */
import type { KeyId, MatchFacts, MatchReported, PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Desk } from "../../desk/desk.ts";
import type { Message } from "../../messages.ts";
import { showDay } from "../dates.ts";
import { deviceName, nameOf, shortNameOf } from "../desk-store.ts";
import { newForm } from "../entry/form.ts";
import { hasRecord, keepRecord, reportBody } from "../entry/kept-record.ts";
import { Badge } from "../parts/badge.tsx";
import { Button } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayCorrectHere, mayHere } from "../permission.ts";
import { save } from "../saved.ts";
import { leagueWords } from "../words/league.ts";
import { matchWords } from "../words/match.ts";
import { clubNameIn, statusTone } from "./fixture-list.tsx";
import { namedSides } from "./named-sides.ts";
import { useReading } from "./reading-here.ts";
import type { ReportsTableProps } from "./reports-table.tsx";
import { ReportsTable } from "./reports-table.tsx";
import { RulingForm, RulingMade } from "./ruling.tsx";
import type { SlotPlace } from "./slot-form.ts";
import { copyOf, formFrom, slotForm, slotFormOf } from "./slot-form.ts";
import { SlotSheet } from "./slot-sheet.tsx";
import type { ClubReport, SlotView } from "./slots.ts";
import { homeFirst, ownClub, reportOf, reportOfOther } from "./slots.ts";

export interface SlotCardProps {
  readonly desk: Desk;
  readonly league: Book;
  readonly place: SlotPlace;
  readonly slot: SlotView;
  readonly mayReport: boolean;
  readonly open: boolean;
  readonly onOpen: () => void;
  readonly onClose: (saved: boolean) => void;
}

export function SlotCard(props: SlotCardProps) {
  const { league, slot, place, open } = props;
  const own = ownClub(league);
  const clubName = clubNameIn(league);
  const ours = reportOf(slot, own, league.device);
  const theirs = reportOfOther(slot, own);
  const { status, match, number } = slot;
  const mayRule = mayHere(league, "ruling-made");
  const shown = { reports: slot.reports, differs: match?.differs ?? [], league, clubName };
  return (
    <section class="slot" aria-label={leagueWords.slot(number)}>
      <h2 class="slot-head">
        {leagueWords.slot(number)} <span class="slot-kind">{leagueWords.slotKind(slot.slot)}</span>{" "}
        <Badge tone={statusTone[status.type]}>{leagueWords.status(status, own, clubName)}</Badge>
      </h2>
      {status.type === "differs" && <p>{leagueWords.held}</p>}
      {status.type === "one-club" && (
        <p class="quiet">{match?.status === "waiting" ? leagueWords.waits : leagueWords.counts}</p>
      )}
      {match !== null && <RulingMade league={league} match={match} />}
      {match !== null &&
        (status.type === "differs" || status.type === "void" ? (
          <ReportsTable {...shown} />
        ) : (
          <Stands {...shown} facts={match.facts ?? slot.reports[0]?.report.facts ?? null} place={place} />
        ))}
      {open ? (
        <OpenForm {...props} ours={ours} theirs={theirs} />
      ) : (
        props.mayReport && <Actions {...props} own={own} ours={ours} theirs={theirs} />
      )}
      {mayRule &&
        match !== null &&
        slot.reports.length > 0 &&
        (status.type === "differs" || status.type === "one-club") && (
          <RulingForm league={league} slot={slot} clubName={clubName} place={place} />
        )}
    </section>
  );
}

interface StandsProps extends ReportsTableProps {
  readonly facts: MatchFacts | null;
  readonly place: SlotPlace;
}

/** One line where nothing is in dispute, and who said it below for whoever wants to know. */
function Stands({ facts, place, ...reports }: StandsProps) {
  if (facts === null) return null;
  const told = homeFirst(reports.league, place.fixture, facts);
  return (
    <>
      <p class="slot-result">
        {matchWords(told, nameWithHandicap(told))} <span class="quiet small">{showDay(told.date)}</span>
      </p>
      <details class="who-said">
        <summary>{leagueWords.whoReported(reports.reports.length)}</summary>
        <ReportsTable {...reports} />
      </details>
    </>
  );
}

function nameWithHandicap({ sides }: MatchFacts): (player: PlayerId) => string {
  const offs = new Map(sides.flat().map(({ player, off }) => [player, off]));
  return (player) => leagueWords.playerOff(nameOf(player), offs.get(player) ?? 0);
}

interface SidesProps extends SlotCardProps {
  readonly ours: ClubReport | null;
  readonly theirs: ClubReport | null;
}

function OpenForm({ desk, league, place, slot, ours, theirs, onClose }: SidesProps) {
  const named = namedSides(useReading(league), place.fixture).get(place.number);
  const begin = ours ?? theirs;
  const initial =
    begin === null
      ? slotFormOf(place, desk.today(), named, nameOf)
      : {
          ...newForm({ ...slotForm(place, desk.today()) }),
          ...formFrom(begin.facts, ours?.report.entry ?? null, nameOf),
        };
  return (
    <SlotSheet
      desk={desk}
      league={league}
      place={place}
      slot={slot}
      initial={initial}
      recorded={recordOf(league, ours)}
      onDone={() => onClose(true)}
      onCancel={() => onClose(false)}
    />
  );
}

/** What a score pad of ours kept of the match; undefined when nothing is. */
function recordOf(league: Book, ours: ClubReport | null): MatchReported | undefined {
  const body = ours === null ? undefined : reportBody(league, ours.report.entry);
  return body !== undefined && hasRecord(body) ? body : undefined;
}

function Actions({ league, place, slot, own, ours, theirs, onOpen }: SidesProps & { readonly own: KeyId | null }) {
  const [refused, setRefused] = useState<Message | null>(null);
  const { number, status } = slot;
  const may = ours === null || mayCorrectHere(league, ours.report.by);
  const takeOver = async (report: ClubReport): Promise<void> => {
    const { kind, body } = copyOf(report.facts, place, ours?.report.entry ?? null);
    const recorded = recordOf(league, ours);
    const draft = { kind, body: recorded === undefined ? body : keepRecord(body, recorded).body };
    setRefused(await save(league, [draft], leagueWords.copied(number, matchWords(report.facts, shortNameOf))));
  };
  if (ours !== null && !may) return <p class="quiet">{leagueWords.mayNotCorrect(deviceName(ours.report.by))}</p>;
  return (
    <>
      <Refused message={refused} />
      <div class="row">
        {ours === null && theirs === null && <Button onClick={onOpen}>{leagueWords.report(number)}</Button>}
        {ours === null && theirs !== null && (
          <>
            <Button look="main" onClick={() => void takeOver(theirs)}>
              {leagueWords.agree}
            </Button>
            <Button onClick={onOpen}>{leagueWords.disagree}</Button>
          </>
        )}
        {ours !== null && (
          <Button look={status.type === "differs" ? "plain" : "quiet"} onClick={onOpen}>
            {leagueWords.correct}
          </Button>
        )}
        {ours !== null && theirs !== null && status.type === "differs" && theirs.club !== own && (
          <Button onClick={() => void takeOver(theirs)}>{leagueWords.theirsIsRight}</Button>
        )}
      </div>
    </>
  );
}
