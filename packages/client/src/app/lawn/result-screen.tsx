/** The end of a pad: the entry form as the pad fills it in, or the form of the league match it was begun for. */
import { useSignal } from "@preact/signals";
import type { Day, MatchReported } from "@sward/core";
import { useMemo } from "preact/hooks";
import { useLocation } from "preact-iso";
import { useDesk } from "../desk-store.ts";
import { EntryForm } from "../entry/entry-form.tsx";
import { prefilled } from "../entry/form.ts";
import { typingAt } from "../entry/form-store.ts";
import { adviseOff } from "../entry/played-off.ts";
import { slotForm } from "../league/slot-form.ts";
import { SlotSheet } from "../league/slot-sheet.tsx";
import { viewSlots } from "../league/slots.ts";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { lawnWords } from "../words/lawn.ts";
import type { PadState } from "./game.ts";
import { replay } from "./game.ts";
import type { Pad } from "./pad.ts";
import { formFromPad, gamesOf, padRecord } from "./report.ts";
import { usePadStore } from "./use-pad.ts";
import "../league/league.css";

const words = lawnWords.result;

export function ResultScreen({ pad }: { readonly pad: Pad }) {
  const { club, leagues } = useDesk();
  const href = useHref();
  const state = useMemo(() => replay(pad.setup, pad.events).state, [pad.setup, pad.events]);
  const { slot } = pad.setup;
  const league = slot === null ? undefined : leagues.find(({ id }) => id === slot.book);
  const fixture = slot === null ? undefined : league?.state().fixtures.get(slot.fixture);
  const book = league ?? club;
  return (
    <Page title={words.title} lead={words.lead} actions={<a href={href(places.pad(pad.id))}>{words.backToPad}</a>}>
      {gamesOf(state).length === 0 || state.phase.type !== "over" ? (
        <p>{words.notOver}</p>
      ) : !mayHere(book, "match-reported") ? (
        <Empty title={words.mayNotTitle}>
          <p>{words.mayNot}</p>
        </Empty>
      ) : league !== undefined && fixture !== undefined ? (
        <LeagueResult pad={pad} state={state} />
      ) : (
        <>
          {slot !== null && <p>{words.noLeague}</p>}
          <ClubResult pad={pad} state={state} />
        </>
      )}
    </Page>
  );
}

interface ResultProps {
  readonly pad: Pad;
  readonly state: PadState;
}

/** What happens once it is saved, and what the pad kept for the report. */
function useEnding({ pad, state }: ResultProps) {
  const store = usePadStore();
  const href = useHref();
  const { route } = useLocation();
  return {
    recorded: (body: MatchReported): MatchReported => padRecord(body, pad.setup, state),
    done: (): void => {
      store.write({ ...pad, saved: true });
      route(href(places.lawn));
    },
  };
}

function ClubResult(props: ResultProps) {
  const desk = useDesk();
  const { recorded, done } = useEnding(props);
  const date = dayOf(props.pad, desk.today());
  const typing = typingAt(desk.club.device, desk.today());
  const { occasion } = typing.form.value;
  const form = useSignal(
    prefilled(formFromPad(props.pad, props.state, { date, occasion, event: null }), (player) => {
      const advice = adviseOff(desk, player, date);
      return advice.from === "nobody" ? null : advice.off;
    }),
  );
  return (
    <div class="lawn-result">
      <EntryForm typing={typing} form={form} onDone={done} recorded={recorded} />
    </div>
  );
}

function LeagueResult(props: ResultProps) {
  const desk = useDesk();
  const href = useHref();
  const { route } = useLocation();
  const { recorded, done } = useEnding(props);
  const { slot } = props.pad.setup;
  const league = desk.leagues.find(({ id }) => id === slot?.book);
  const fixture = slot === null ? undefined : league?.state().fixtures.get(slot.fixture);
  const view = fixture === undefined || league === undefined ? undefined : viewSlots(league, fixture);
  const shown = view?.find(({ number }) => number === slot?.number);
  if (slot === null || league === undefined || fixture === undefined || shown === undefined) return null;
  const place = { fixture, number: slot.number };
  const asked = slotForm(place, desk.today());
  const filled = formFromPad(props.pad, props.state, {
    date: dayOf(props.pad, desk.today()),
    occasion: "league",
    event: null,
  });
  return (
    <SlotSheet
      desk={desk}
      league={league}
      place={place}
      slot={shown}
      initial={{ ...filled, occasion: asked.occasion }}
      onDone={done}
      onCancel={() => route(href(places.pad(props.pad.id)))}
      recorded={recorded}
    />
  );
}

/** The reader's calendar day on which the pad was begun; never later than today. */
function dayOf({ begun }: Pad, today: Day): Day {
  const then = new Date(begun);
  const two = (value: number): string => String(value).padStart(2, "0");
  const day = `${then.getFullYear()}-${two(then.getMonth() + 1)}-${two(then.getDate())}`;
  return day > today ? today : day;
}
