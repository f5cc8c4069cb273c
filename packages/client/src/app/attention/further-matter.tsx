/** Visitors who may be somebody, and people with two homes. Fetched after the first view; from then on it keeps looking. */
import type { Draft } from "@sward/core";
import type { TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { showMoment } from "../dates.ts";
import { deviceName, nameOf, officeHere, useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayCorrectHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { ProposalMatter } from "../proposals/proposal-matter.tsx";
import { save, saved } from "../saved.ts";
import type { TwoHomes } from "../visitors/homes.ts";
import { reasonsOf } from "../visitors/reasons.ts";
import type { Suggestion } from "../visitors/suggestions.ts";
import { changeWords } from "../words/changes.ts";
import { visitorWords } from "../words/visitors.ts";
import { words } from "../words.ts";
import type { FurtherMatter } from "./further.ts";
import { pairOf } from "./further-found.ts";
import { apartChanged, keepLooking } from "./further-here.ts";
import { keepApart } from "./kept-apart.ts";
import { focusAfter, MatterBox } from "./matter.tsx";

keepLooking();

export function FurtherView({ matter: { found } }: { readonly matter: FurtherMatter }) {
  switch (found.what) {
    case "may-be":
      return <MayBeView suggestion={found.suggestion} />;
    case "two-homes":
      return <TwoHomesView homes={found.homes} />;
    case "proposal":
      return <ProposalMatter seen={found.seen} />;
  }
}

const said = visitorWords.matters;

function MayBeView({ suggestion }: { readonly suggestion: Suggestion }) {
  const desk = useDesk();
  const href = useHref();
  const { player, to, is, club } = suggestion;
  const [own, name] = [nameOf(player), nameOf(to)];

  const apart = (event: TargetedEvent<HTMLButtonElement>): void => {
    const moveOn = focusAfter(event.currentTarget);
    keepApart(localStorage, desk.club, pairOf(suggestion));
    apartChanged.value += 1;
    moveOn();
  };

  return (
    <MatterBox
      title={said.mayBe(own, is === "member" ? null : club, name)}
      actions={
        <>
          <ButtonLink look="main" href={href(places.member(player))}>
            {said.look}
            <span class="unseen">: {own}</span>
          </ButtonLink>
          <Button onClick={apart}>
            {said.apart}
            <span class="unseen">: {own}</span>
          </Button>
        </>
      }
    >
      <p>{said.why(reasonsOf(suggestion))}</p>
      <p class="quiet small">{said.apartMeans}</p>
    </MatterBox>
  );
}

function TwoHomesView({ homes: { player, homes } }: { readonly homes: TwoHomes }) {
  const desk = useDesk();
  const [fault, setFault] = useState<Message | null>(null);
  const name = nameOf(player);
  const may = homes.flat().every(({ by }) => mayCorrectHere(desk.club, by));

  const keep = async (event: TargetedEvent<HTMLButtonElement>, kept: TwoHomes["homes"][number]): Promise<void> => {
    const moveOn = focusAfter(event.currentTarget);
    const drafts = homes
      .filter((group) => group !== kept)
      .flat()
      .map(({ entry }): Draft => ({ kind: "entry-withdrawn", body: { withdraws: entry, reason: said.keepReason } }));
    const refused = await save(desk.club, drafts, said.kept(name, clubOf(kept)));
    setFault(refused);
    if (refused !== null) return;
    // Taking back is final: a home that was right after all is written down again.
    saved.value = { sentence: said.kept(name, clubOf(kept)), undo: null };
    moveOn();
  };

  return (
    <MatterBox title={said.twoHomes(name)}>
      <p>{said.twoHomesLead}</p>
      <div class="accounts">
        {homes.map((group, place) => (
          <div key={group[0]?.entry} class="account">
            <p>
              <strong>{clubOf(group)}</strong> {place === 0 && <Badge tone="info">{said.counts}</Badge>}
            </p>
            {group.map(({ entry, by, at }) => (
              <p key={entry} class="quiet small">
                {said.saidBy(deviceName(by), showMoment(at))}
              </p>
            ))}
            <Button disabled={!may} onClick={(event) => void keep(event, group)}>
              {said.keep(clubOf(group))}
            </Button>
          </div>
        ))}
      </div>
      {!may && (
        <p class="quiet small">
          {said.mayNot} {changeWords.here(words.office[officeHere.value])}
        </p>
      )}
      <Refused message={fault} />
    </MatterBox>
  );
}

const clubOf = (group: TwoHomes["homes"][number]): string =>
  group.map(({ club }) => club).find((club) => club !== null) ?? said.unnamedClub;
