/** The answer to a club's code, once the admission is in this device's record: as codes with the keys, as a file with everything. */
import { useEffect, useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { bookPassOf, seedOf } from "../../desk/pass.ts";
import { createSigner } from "../../keys/signer.ts";
import type { LeagueAsk } from "../../league/joining.ts";
import { leagueAnswer, parcelOfMessage } from "../../league/joining.ts";
import { keptPass } from "../desk-store.ts";
import { ShowParcel } from "../invite/show-parcel.tsx";
import { Button } from "../parts/button.tsx";
import { clubsWords } from "../words/league-join.ts";

const said = clubsWords.take;

interface AnswerAskProps {
  readonly league: Book;
  readonly ask: LeagueAsk;
  readonly done: () => void;
}

interface Answers {
  readonly small: Uint8Array;
  readonly withRecord: Uint8Array;
}

export function AnswerAsk({ league, ask, done }: AnswerAskProps) {
  const [answers, setAnswers] = useState<Answers | null>(null);
  const { clubs, devices } = league.state();
  // With words the entry goes round by the relay before it is here.
  const isIn = clubs.has(ask.clubId);
  const admitted = devices.has(ask.device);
  useEffect(() => {
    const pass = keptPass.value?.pass;
    if (isIn && pass !== undefined) void answersTo(league, ask, admitted, seedOf(pass)).then(setAnswers);
  }, [isIn, admitted, ask.id]);
  return (
    <div class="clubs-ask">
      <h3>{said.answer}</h3>
      {answers === null ? (
        <p role="status">{said.waits}</p>
      ) : (
        <>
          <p>{said.answerLead}</p>
          <ShowParcel
            parcel={answers.small}
            inFile={answers.withRecord}
            fileName={`league-answer-${ask.id.slice(0, 6)}.txt`}
          />
        </>
      )}
      <Button onClick={done}>{said.done}</Button>
    </div>
  );
}

async function answersTo(league: Book, ask: LeagueAsk, admitted: boolean, seed: Uint8Array): Promise<Answers> {
  const signer = await createSigner(seed);
  const welcome = { league: bookPassOf(league), name: league.state().name, admitted };
  const record = { entries: [...league.entries()].map(({ jws }) => jws), names: league.roster.envelopes() };
  return {
    small: parcelOfMessage(await leagueAnswer(signer, ask, { ...welcome, record: null })),
    withRecord: parcelOfMessage(await leagueAnswer(signer, ask, { ...welcome, record })),
  };
}
