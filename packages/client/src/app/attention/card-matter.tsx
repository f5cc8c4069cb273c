/** All that is asked about one card, with the evidence, and one signature to answer it. */
import type { CardLine } from "@sward/core";
import type { TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { signDraft } from "../card/signing.ts";
import { showDay } from "../dates.ts";
import { deviceName, nameOf, useDesk } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { save } from "../saved.ts";
import { attentionWords } from "../words/attention.ts";
import { changeWords, scoreWords, whyWords } from "../words/changes.ts";
import { number, signed, words } from "../words.ts";
import { focusAfter, MatterBox } from "./matter.tsx";
import type { CardMatter, PlacedGame, Touched } from "./matters.ts";

export function CardMatterView({ matter }: { readonly matter: CardMatter }) {
  const desk = useDesk();
  const href = useHref();
  const [fault, setFault] = useState<Message | null>(null);
  const { card, touched, changes, playedOff, plan, player } = matter;
  const name = nameOf(player);
  const maySign = mayHere(desk.club, "card-signed");
  const first = touched[0]?.from ?? changes[0]?.place ?? playedOff[0]?.place ?? 0;

  const sign = async (event: TargetedEvent<HTMLButtonElement>): Promise<void> => {
    const draft = plan === null ? null : signDraft(card, plan);
    if (plan === null || draft === null) return;
    const moveOn = focusAfter(event.currentTarget);
    const refused = await save(desk.club, [draft], changeWords.signedOff(name, plan.upto));
    setFault(refused);
    if (refused === null) moveOn();
  };

  return (
    <MatterBox
      title={titleOf(matter, name)}
      actions={
        <>
          {plan !== null && (
            <Button
              look="main"
              disabled={!maySign}
              aria-describedby={maySign ? undefined : "may-not-sign"}
              onClick={(event) => void sign(event)}
            >
              {attentionWords.sign(plan.upto)}
              <span class="unseen">: {name}</span>
            </Button>
          )}
          <ButtonLink href={href(places.member(player), { line: String(first) })}>
            {attentionWords.card}
            <span class="unseen">: {name}</span>
          </ButtonLink>
          {changes.length > 0 && (
            <a class="matter-print" href={href(places.printCard(player))}>
              {attentionWords.print}
              <span class="unseen">: {name}</span>
            </a>
          )}
        </>
      }
    >
      {touched.map((one) => (
        <TouchedView key={one.signature.entry} touched={one} lines={card.lines} />
      ))}
      {changes.map((change) => (
        <ChangeView key={change.place} change={change} titled={touched.length > 0 || changes.length > 1} />
      ))}
      {playedOff.map(({ place, line, different }) => (
        <p key={place}>
          {(touched.length > 0 || changes.length > 0) && (
            <strong>{changeWords.notice(different.off, different.record)}. </strong>
          )}
          {attentionWords.playedOffGame(line.date, opponentsOf(line), scoreWords(line))}{" "}
          {attentionWords.playedOffPoints(different)} {attentionWords.playedOffStrokes(different)}
        </p>
      ))}
      {plan?.stillOpen === true && <p class="quiet">{attentionWords.signStillOpen}</p>}
      <Refused message={fault} />
    </MatterBox>
  );
}

function titleOf({ touched, changes, playedOff }: CardMatter, name: string): string {
  const [change] = changes;
  const [off] = playedOff;
  if (touched.length > 0) return attentionWords.touched(name);
  if (changes.length > 1) return attentionWords.changes(name, changes.length);
  if (change?.line.moved) return attentionWords.change(name, change.line.moved.from, change.line.moved.to);
  return off === undefined ? name : attentionWords.playedOff(name, off.different.off, off.different.record);
}

const opponentsOf = ({ opponents }: PlacedGame["line"]): string =>
  opponents.map(({ player, off }) => `${nameOf(player)} (${number(off)})`).join(" & ");

function ChangeView({ change: { line }, titled }: { readonly change: PlacedGame; readonly titled: boolean }) {
  if (line.moved === null) return null;
  const { from, to, trigger, after } = line.moved;
  return (
    <p>
      {titled && <strong>{changeWords.moved(from, to)}. </strong>}
      {attentionWords.changeHow(line.date, opponentsOf(line), scoreWords(line), line.points, trigger)}{" "}
      {attentionWords.changeForce(after)}
    </p>
  );
}

function TouchedView({ touched, lines }: { readonly touched: Touched; readonly lines: readonly CardLine[] }) {
  const { signature, from, now } = touched;
  const line = lines[from];
  return (
    <>
      <p>
        {attentionWords.touchedWas(deviceName(signature.by), signature.upto, signature.handicap, signature.index)}{" "}
        {now !== null && attentionWords.touchedNow(now.handicap, now.index, now.lines - signature.lines)}
      </p>
      <p>
        {line === undefined || line.date > signature.upto
          ? attentionWords.touchedGone
          : attentionWords.touchedFrom(lineWords(line))}
      </p>
    </>
  );
}

const lineWords = (line: CardLine): string =>
  line.line === "set"
    ? `${showDay(line.date)}, ${changeWords.moved(line.moved.from, line.moved.to)}, ${whyWords(line)}.`
    : `${showDay(line.date)}, ${opponentsOf(line)}, ${scoreWords(line)}, ${signed(line.points)}, ${words.index} ${number(line.index)}.`;
