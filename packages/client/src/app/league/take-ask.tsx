/** Letting a club, or a further device of the own club, into a league: its code is taken, looked at, admitted, and answered. */
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { LeagueAsk } from "../../league/joining.ts";
import { leagueAskCode, messageOfParcel, readLeagueAsk } from "../../league/joining.ts";
import { messageOf } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { TakeParcel } from "../invite/take-parcel.tsx";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { clubsWords } from "../words/league-join.ts";
import { AdmitAsk } from "./admit-ask.tsx";
import { AnswerAsk } from "./answer-ask.tsx";
import { takeAsk } from "./clubs-view.ts";

const said = clubsWords.take;

interface Seen {
  readonly ask: LeagueAsk;
  readonly code: string;
}

export function TakeAsk({ league, ofClub }: { readonly league: Book; readonly ofClub: boolean }) {
  const desk = useDesk();
  const [seen, setSeen] = useState<Seen | null>(null);
  /** The ask that is let in, while its answer is handed over. */
  const [answered, setAnswered] = useState<LeagueAsk | null>(null);
  const take = async (parcel: Uint8Array) => {
    const ask = await readLeagueAsk(messageOfParcel(parcel));
    if (!ask.ok) return messageOf(ask.fault);
    setSeen({ ask: ask.value, code: await leagueAskCode(ask.value) });
    return null;
  };
  const done = (): void => {
    setSeen(null);
    setAnswered(null);
  };
  return (
    <section class="clubs-take">
      <h2>{ofClub ? said.club : said.secretary}</h2>
      {answered !== null ? (
        <AnswerAsk league={league} ask={answered} done={done} />
      ) : seen === null ? (
        <>
          <p>{ofClub ? said.clubLead : said.secretaryLead}</p>
          <TakeParcel take={take} />
        </>
      ) : (
        <Decide league={league} desk={desk.club} seen={seen} admitted={() => setAnswered(seen.ask)} cancel={done} />
      )}
    </section>
  );
}

interface DecideProps {
  readonly league: Book;
  readonly desk: Book;
  readonly seen: Seen;
  readonly admitted: () => void;
  readonly cancel: () => void;
}

function Decide({ league, desk, seen: { ask, code }, admitted, cancel }: DecideProps) {
  const taken = takeAsk(league.state(), league.device, desk.state(), ask);
  if (taken.type === "may-not") {
    return (
      <>
        <Notice tone="warn" title={said.mayNot[taken.why]} live />
        <Button onClick={cancel}>{said.cancel}</Button>
      </>
    );
  }
  return <AdmitAsk league={league} ask={ask} code={code} taken={taken} admitted={admitted} cancel={cancel} />;
}
