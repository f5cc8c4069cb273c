/** All that is asked about one card, with the evidence, and one signature to answer it. */
import { untracked } from "@preact/signals";
import type { Card, CardLine, KeyId, PlayerId } from "@sward/core";
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
import { lineIn } from "./matters.ts";

/**
 * What is written of a matter beside what it is made of itself: while both are the same it need not be drawn again. A record of ten years
 * has sixty of them, and a game concerns two.
 */
export function saidBeside(
  { player, card, touched, changes, playedOff }: CardMatter,
  named: (player: PlayerId) => string,
  device: (device: KeyId) => string,
): string {
  const lines = [
    ...touched.map(({ from }) => lineIn(card, from)),
    ...[...changes, ...playedOff].map(({ line }) => line),
  ];
  const against = lines.flatMap((line) =>
    line?.line === "game" ? line.opponents.map((one) => named(one.player)) : [],
  );
  return [named(player), ...against, ...touched.map(({ signature }) => device(signature.by))].join("\n");
}

/** Drawn again when whoever draws it says so, by what it is to say. */
export function CardMatterView(props: CardMatterProps) {
  return untracked(() => Drawn(props));
}

interface CardMatterProps {
  readonly matter: CardMatter;
  /** Paragraphs; what is below them is drawn with the last. */
  readonly most: number;
  /** As `saidBeside`: a part that watches nothing is passed over while it is given the same. */
  readonly said: string | null;
}

function Drawn({ matter, most }: CardMatterProps) {
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

  const actions = (
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
  );
  const isTitled = touched.length > 0 || changes.length > 0;
  const paragraphs = [
    ...touched.flatMap((one) => [() => touchedWas(one), () => touchedFrom(one, card)]),
    ...changes.map((change) => () => changeOf(change, touched.length > 0 || changes.length > 1)),
    ...playedOff.map((one) => () => playedOffOf(one, isTitled)),
  ];
  const isWhole = paragraphs.length <= most;
  return (
    <MatterBox title={titleOf(matter, name)} actions={isWhole ? actions : undefined}>
      {paragraphs.slice(0, most).map((paragraph) => paragraph())}
      {isWhole && plan?.stillOpen === true && <p class="quiet">{attentionWords.signStillOpen}</p>}
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

function changeOf({ place, line }: PlacedGame, titled: boolean) {
  if (line.moved === null) return null;
  const { from, to, trigger, after } = line.moved;
  return (
    <p key={place}>
      {titled && <strong>{changeWords.moved(from, to)}. </strong>}
      {attentionWords.changeHow(line.date, opponentsOf(line), scoreWords(line), line.points, trigger)}{" "}
      {attentionWords.changeForce(after)}
    </p>
  );
}

function playedOffOf({ place, line, different }: CardMatter["playedOff"][number], titled: boolean) {
  return (
    <p key={`off ${place}`}>
      {titled && <strong>{changeWords.notice(different.off, different.record)}. </strong>}
      {attentionWords.playedOffGame(line.date, opponentsOf(line), scoreWords(line))}{" "}
      {attentionWords.playedOffPoints(different)} {attentionWords.playedOffStrokes(different)}
    </p>
  );
}

function touchedWas({ signature, now }: Touched) {
  return (
    <p key={`was ${signature.entry}`}>
      {attentionWords.touchedWas(deviceName(signature.by), signature.upto, signature.handicap, signature.index)}{" "}
      {now !== null && attentionWords.touchedNow(now.handicap, now.index, now.lines - signature.lines)}
    </p>
  );
}

function touchedFrom({ signature, from }: Touched, card: Card) {
  const line = lineIn(card, from);
  return (
    <p key={`from ${signature.entry}`}>
      {line === undefined || line.date > signature.upto
        ? attentionWords.touchedGone
        : attentionWords.touchedFrom(lineWords(line))}
    </p>
  );
}

const lineWords = (line: CardLine): string =>
  line.line === "set"
    ? `${showDay(line.date)}, ${changeWords.moved(line.moved.from, line.moved.to)}, ${whyWords(line)}.`
    : `${showDay(line.date)}, ${opponentsOf(line)}, ${scoreWords(line)}, ${signed(line.points)}, ${words.index} ${number(line.index)}.`;
