/** The ways to say who a visitor is: one who may be meant, a name, the player's code, or the player's record. */
import type { BookState, Player, PlayerId } from "@sward/core";
import { linkCandidates, readPlayerCode } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { nameOf, useDesk, version } from "../desk-store.ts";
import type { Person } from "../entry/people.ts";
import { findPeople, knownPeople } from "../entry/people.ts";
import { rosterRecordOf } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { visitorWords } from "../words/visitors.ts";
import { LinkDialog } from "./link-dialog.tsx";
import { readRecord } from "./read-record.ts";
import { reasonsOf } from "./reasons.ts";
import type { Suggestion } from "./suggestions.ts";
import { suggestionsFor } from "./suggestions.ts";

export interface Chosen {
  readonly to: PlayerId;
  /** What a record that was brought along says of it. */
  readonly record: { readonly book: string; readonly named: boolean; readonly matches: number } | null;
}

const MOST = 6;

export function LinkWays({ visitor }: { readonly visitor: Player }) {
  const desk = useDesk();
  const [chosen, setChosen] = useState<Chosen | null>(null);
  const suggested = useMemo(
    () =>
      suggestionsFor(desk, (id) => rosterRecordOf(desk, id)?.name)
        .filter(({ player }) => player === visitor.player)
        .slice(0, MOST),
    [desk, version.value, visitor.player],
  );
  const choose = (to: PlayerId): void => setChosen({ to, record: null });
  const { links } = visitorWords;
  return (
    <>
      {suggested.length > 0 && (
        <>
          <h3 id="link-candidates">{links.candidates}</h3>
          <ul class="visitor-candidates" aria-labelledby="link-candidates">
            {suggested.map((one) => (
              <Candidate key={one.to} suggestion={one} choose={choose} />
            ))}
          </ul>
        </>
      )}
      <h3>{visitor.alsoKnownAs.length === 0 ? links.ways : links.waysMore}</h3>
      <div class="visitor-ways">
        <ByName visitor={visitor} choose={choose} />
        <ByCode choose={choose} />
        <ByRecord visitor={visitor} choose={setChosen} />
      </div>
      {chosen !== null && <LinkDialog visitor={visitor} chosen={chosen} onClose={() => setChosen(null)} />}
    </>
  );
}

interface CandidateProps {
  readonly suggestion: Suggestion;
  readonly choose: (to: PlayerId) => void;
}

function Candidate({ suggestion, choose }: CandidateProps) {
  const { links } = visitorWords;
  const { to, is, club } = suggestion;
  const name = nameOf(to);
  const where = is === "member" ? links.member : is === "visitor" ? links.visitor : links.league(club);
  return (
    <li>
      <p>
        <strong>{links.candidate(name, is === "member" ? null : club)}</strong> <span class="quiet">({where})</span>
        <br />
        {visitorWords.matters.why(reasonsOf(suggestion))}
      </p>
      <Button onClick={() => choose(to)}>
        {links.look}
        <span class="unseen">: {name}</span>
      </Button>
    </li>
  );
}

function ByName({ visitor, choose }: { readonly visitor: Player; readonly choose: (to: PlayerId) => void }) {
  const desk = useDesk();
  const [typed, setTyped] = useState("");
  const { links } = visitorWords;
  const own = new Set([visitor.player, ...visitor.alsoKnownAs]);
  const found: readonly Person[] = typed.trim() === "" ? [] : findPeople(knownPeople(desk), typed, own, MOST);
  return (
    <form noValidate onSubmit={(event) => event.preventDefault()}>
      <Field label={links.typed} hint={links.typedHint}>
        {(control) => (
          <input
            {...control}
            autocomplete="off"
            value={typed}
            onInput={(event) => setTyped(event.currentTarget.value)}
          />
        )}
      </Field>
      <div aria-live="polite">
        {typed.trim() !== "" && found.length === 0 && <p>{links.typedNone}</p>}
        {found.map(({ player, name, club }) => (
          <p key={player} class="row">
            <Button onClick={() => choose(player)}>
              {links.candidate(name, club)}
              <span class="unseen">: {links.look}</span>
            </Button>
          </p>
        ))}
      </div>
    </form>
  );
}

function ByCode({ choose }: { readonly choose: (to: PlayerId) => void }) {
  const [typed, setTyped] = useState("");
  const [fault, setFault] = useState<Message | null>(null);
  const { links } = visitorWords;
  const read = async (event: Event): Promise<void> => {
    event.preventDefault();
    const { messageOf } = await import("../../messages.ts");
    const player = readPlayerCode(typed);
    setFault(player.ok ? null : messageOf(player.fault));
    if (player.ok) choose(player.value);
  };
  return (
    <form noValidate onSubmit={(event) => void read(event)}>
      <Field label={links.byCode} hint={links.byCodeHint}>
        {(control) => (
          <input
            {...control}
            class="visitor-code"
            autocomplete="off"
            autocapitalize="characters"
            spellcheck={false}
            value={typed}
            onInput={(event) => setTyped(event.currentTarget.value)}
          />
        )}
      </Field>
      <Refused message={fault} />
      <Button type="submit">{links.read}</Button>
    </form>
  );
}

function ByRecord({ visitor, choose }: { readonly visitor: Player; readonly choose: (chosen: Chosen) => void }) {
  const desk = useDesk();
  const [fault, setFault] = useState<Message | null>(null);
  const { links } = visitorWords;
  const read = async (file: File | undefined): Promise<void> => {
    if (file === undefined) return;
    const record = await readRecord(await file.text());
    setFault(record.ok ? null : record.fault);
    if (record.ok) choose(chosenBy(desk.club.state(), visitor, record.value));
  };
  return (
    <div>
      <Field label={links.byFile} hint={links.byFileHint}>
        {(control) => (
          <input
            {...control}
            type="file"
            onChange={(event) => {
              const input = event.currentTarget;
              // The same file chosen again is a change too.
              void read(input.files?.[0]).finally(() => {
                input.value = "";
              });
            }}
          />
        )}
      </Field>
      <Refused message={fault} />
    </div>
  );
}

function chosenBy(here: BookState, visitor: Player, record: { player: PlayerId; state: BookState }): Chosen {
  const { player: to, state } = record;
  const found = linkCandidates(here, state, to).find(({ player }) => player === visitor.player);
  return { to, record: { book: state.name, named: found?.named ?? false, matches: found?.matches ?? 0 } };
}
