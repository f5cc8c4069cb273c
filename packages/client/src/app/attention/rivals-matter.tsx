/** Two corrections of one entry, made apart from each other: one is kept, the others are taken back. */
import type { Counted, Draft, EntryId, KnownEntry } from "@sward/core";
import type { ComponentChildren, TargetedEvent } from "preact";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { showMoment } from "../dates.ts";
import { deviceName, nameOf, officeHere, useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Button } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayCorrectHere } from "../permission.ts";
import { save } from "../saved.ts";
import { rivalsWords as rivals } from "../words/attention-seldom.ts";
import { changeWords } from "../words/changes.ts";
import { words } from "../words.ts";
import { focusAfter, MatterBox } from "./matter.tsx";
import type { Matter } from "./matters.ts";
import { rivalWords } from "./rival-words.ts";

type RivalsMatter = Extract<Matter, { readonly about: "rival-corrections" }>;

export function RivalsView({ matter }: { readonly matter: RivalsMatter }) {
  const desk = useDesk();
  const [fault, setFault] = useState<Message | null>(null);
  const book = desk.books.get(matter.book);
  if (book === undefined) return null;
  const entries = entriesOf(book.counted(), matter.rivals);
  const may = entries.every(({ author }) => mayCorrectHere(book, author));

  const keep = async (event: TargetedEvent<HTMLButtonElement>, kept: EntryId): Promise<void> => {
    const moveOn = focusAfter(event.currentTarget);
    const drafts = matter.rivals
      .filter((id) => id !== kept)
      .map((withdraws): Draft => ({ kind: "entry-withdrawn", body: { withdraws, reason: rivals.keepReason } }));
    const refused = await save(book, drafts, rivals.done);
    setFault(refused);
    if (refused === null) moveOn();
  };

  return (
    <MatterBox title={rivals.title}>
      <p>{rivals.lead}</p>
      <div class="accounts">
        {entries.map((entry, place) => (
          <Rival key={entry.id} entry={entry} counts={place === 0} book={book}>
            <Button disabled={!may} onClick={(event) => void keep(event, entry.id)}>
              {rivals.keep}
            </Button>
          </Rival>
        ))}
      </div>
      {!may && (
        <p class="quiet small">
          {rivals.mayNot} {changeWords.here(words.office[officeHere.value])}
        </p>
      )}
      <Refused message={fault} />
    </MatterBox>
  );
}

interface RivalProps {
  readonly entry: KnownEntry;
  readonly counts: boolean;
  readonly book: Book;
  readonly children: ComponentChildren;
}

function Rival({ entry, counts, book, children }: RivalProps) {
  return (
    <div class="account">
      <p>
        <strong>{rivalWords(entry, book.state(), nameOf)}</strong>
      </p>
      <p class="quiet small">
        {deviceName(entry.author)}, {showMoment(entry.at)} {counts && <Badge tone="info">{rivals.counts}</Badge>}
      </p>
      {children}
    </div>
  );
}

function entriesOf(counted: Iterable<Counted>, wanted: readonly EntryId[]): readonly KnownEntry[] {
  const found = new Map<EntryId, KnownEntry>();
  for (const { entry } of counted) if (wanted.includes(entry.id)) found.set(entry.id, entry);
  return wanted.flatMap((id) => found.get(id) ?? []);
}
