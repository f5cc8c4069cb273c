/** One card of the yearly check: what stands out, the lines nobody has signed, and what to do, by a key each. */
import type { Card, PlayerId } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import "../card/card.css";
import "./check.css";
import type { Message } from "../../messages.ts";
import { CardFront } from "../card/card-front.tsx";
import { CardLines } from "../card/card-lines.tsx";
import { rulesToday } from "../card/rules-today.ts";
import { planWholeCard, signDraft } from "../card/signing.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { useHints, useKeys } from "../keys.ts";
import { lazyPart } from "../lazy.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { save, saved, undoSaved } from "../saved.ts";
import type { ScreenProps } from "../screen-props.ts";
import { cardWords } from "../words/card.ts";
import { checkWords, findingWords } from "../words/check.ts";
import { NoteForm } from "./note-form.tsx";
import type { Round } from "./round.ts";
import { findingsOf, linesToLookAt, moveTo, outcomeOf, playerOfSaved, withNote } from "./round.ts";
import { useRound } from "./use-round.ts";

const SetHandicapDialog = lazyPart(() => import("../card/set-handicap-dialog.tsx"), "SetHandicapDialog");

/** Lines shown of a card that is signed to its end. */
const LEAST_LINES = 5;

export function CheckCardScreen({ params }: ScreenProps) {
  const { round } = useRound();
  const { club } = useDesk();
  const player = params["player"] as PlayerId;
  const place = round?.cards.indexOf(player) ?? -1;
  const card = club.state().cards.get(player);
  if (round === null || place === -1 || card === undefined) return <NotInRound />;
  return <CheckCard key={player} round={round} place={place} card={card} />;
}

interface CheckCardProps {
  readonly round: Round;
  readonly place: number;
  readonly card: Card;
}

function CheckCard({ round, place, card }: CheckCardProps) {
  const desk = useDesk();
  const href = useHref();
  const { keep, goTo } = useRound();
  const [open, setOpen] = useState<"set" | "note" | null>(null);
  const [fault, setFault] = useState<Message | null>(null);
  const state = desk.club.state();
  const today = desk.today();
  const name = nameOf(card.player);
  const player = state.players.get(card.player);
  const plan = planWholeCard(card, today);
  const outcome = outcomeOf(round, card.player, card);
  const findings = findingsOf(card, state, today);
  const outstanding = findingWords(findings);
  const lines = linesToLookAt(card, LEAST_LINES);
  const maySign = mayHere(desk.club, "card-signed");
  const { keys } = checkWords;

  // An address of the round, or the back button, moves the round to its card.
  useEffect(() => {
    if (round.at !== place) keep(moveTo(round, place));
  }, [place]);

  const next = (): void => goTo(moveTo(round, place + 1));
  const back = (): void => {
    if (place > 0) goTo(moveTo(round, place - 1));
  };
  const sign = async (): Promise<void> => {
    const draft = plan === null ? null : signDraft(card, plan);
    if (!maySign || plan === null || draft === null) return;
    const refused = await save(desk.club, [draft], cardWords.sign.done(name, plan.upto));
    setFault(refused);
    if (refused === null) next();
  };
  const undo = async (): Promise<void> => {
    const of = playerOfSaved(desk.club.counted(), saved.value?.undo?.entries ?? []);
    const at = of === null ? -1 : round.cards.indexOf(of);
    // What was saved last may have nothing to do with the round: the bar below undoes that.
    if (at === -1) return;
    await undoSaved();
    goTo(moveTo(round, at));
  };
  const setHandicap = (): void => {
    if (mayHere(desk.club, "handicap-set")) setOpen("set");
  };
  useKeys({
    n: next,
    ArrowRight: next,
    p: back,
    ArrowLeft: back,
    s: () => void sign(),
    l: () => setOpen("note"),
    h: setHandicap,
    u: () => void undo(),
  });

  useHints([
    ["s", keys.sign],
    ["n →", keys.next],
    ["p ←", keys.previous],
    ["l", keys.leave],
    ["h", keys.set],
  ]);

  return (
    <Page title={name} lead={checkWords.place(place + 1, round.cards.length)}>
      <progress class="check-progress" max={round.cards.length} value={place + 1} aria-hidden="true" />
      {player !== undefined && <CardFront card={card} player={player} today={today} rules={rulesToday(state, today)} />}
      <section aria-labelledby="check-findings">
        <h2 id="check-findings">{checkWords.findings.title}</h2>
        {outstanding.length === 0 ? (
          <p>{checkWords.findings.none}</p>
        ) : (
          <ul class="check-findings">
            {outstanding.map((one) => (
              <li key={one}>{one}</li>
            ))}
          </ul>
        )}
        <p class="quiet">
          {checkWords.findings.games(findings.games)}, {checkWords.findings.last(findings.last)},{" "}
          {findings.lastSigned === null
            ? checkWords.findings.neverSigned
            : checkWords.findings.signed(findings.lastSigned.on, findings.lastSigned.upto)}
          .
        </p>
      </section>
      <div class="check-do">
        <p role="status">
          {outcome === "signed" ? (
            <strong>✓ {checkWords.sign.already}</strong>
          ) : plan === null ? (
            checkWords.sign.nothing
          ) : (
            checkWords.sign.plan(plan.upto, plan.fresh, plan.handicap, plan.index)
          )}{" "}
          {round.notes[card.player] !== undefined && checkWords.leave.kept(round.notes[card.player] ?? "")}
        </p>
        {!maySign && <p class="quiet small">{cardWords.mayNot.sign}</p>}
        <Refused message={fault} />
        <div class="row">
          <Button look="main" disabled={!maySign || plan === null} onClick={() => void sign()}>
            {checkWords.sign.button} <Hint of="s" />
          </Button>
          <Button onClick={next}>
            {place + 1 === round.cards.length ? checkWords.toSummary : checkWords.next} <Hint of="n" />
          </Button>
          <Button onClick={() => setOpen("note")}>
            {checkWords.leave.button} <Hint of="l" />
          </Button>
          <Button disabled={!mayHere(desk.club, "handicap-set")} onClick={setHandicap}>
            {checkWords.set} <Hint of="h" />
          </Button>
          <Button look="quiet" disabled={place === 0} onClick={back}>
            {checkWords.previous} <Hint of="p" />
          </Button>
        </div>
        {open === "note" && (
          <NoteForm
            note={round.notes[card.player] ?? ""}
            save={(note) => goTo(moveTo(withNote(round, card.player, note), place + 1))}
            close={() => setOpen(null)}
          />
        )}
        <KeyHints keys={[["u", keys.undo]]} />
      </div>
      <CardLines card={{ ...card, lines }} state={state} show={null} />
      <p class="row check-more">
        {lines.length < card.lines.length && checkWords.lines.earlier(card.lines.length - lines.length)}
        <ButtonLink href={href(places.member(card.player))}>{checkWords.lines.whole}</ButtonLink>
        <ButtonLink href={href(places.check)}>{checkWords.title}</ButtonLink>
      </p>
      <Prevail />
      {open === "set" && <SetHandicapDialog card={card} onClose={() => setOpen(null)} />}
    </Page>
  );
}

/** The key beside a button's word, on screens wide enough to have a keyboard. */
const Hint = ({ of }: { readonly of: string }) => (
  <span class="check-key" aria-hidden="true">
    {of}
  </span>
);

function NotInRound() {
  const href = useHref();
  const { notInRound } = checkWords;
  return (
    <Page title={notInRound.title}>
      <p>{notInRound.body}</p>
      <ButtonLink href={href(places.check)}>{notInRound.back}</ButtonLink>
    </Page>
  );
}
