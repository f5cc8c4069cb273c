/** How a record's key stands, and what was set aside of devices that are barred or copied. */
import type { KeyId } from "@sward/core";
import { useMemo } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { showMoment } from "../dates.ts";
import { shortNameOf, useDesk, version } from "../desk-store.ts";
import { deviceIn } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { mayCorrectHere } from "../permission.ts";
import { save } from "../saved.ts";
import { barringWords } from "../words/barring.ts";
import { entryTold } from "../words/sharing.ts";
import { leaveOut, leftOut } from "./left-out.ts";
import type { SetAside } from "./quarantine.ts";
import { setAsideIn, takeOverDraft } from "./quarantine.ts";
import "./lock.css";

export function LockSection({ book }: { readonly book: Book }) {
  const { as, name } = book.state();
  if (as === null) return null;
  const title = barringWords.lock.title[as];
  return (
    <section class="devices-lock" aria-label={`${title}, ${name}`}>
      <h3>{title}</h3>
      <Key book={book} />
      <Aside book={book} />
    </section>
  );
}

function Key({ book }: { readonly book: Book }) {
  const said = barringWords.lock;
  const { number, since, due, owed, moving } = book.lock();
  const state = number === 0 ? said.never : said.changed(number, since === null ? null : showMoment(since));
  return (
    <div aria-live="polite">
      <p>{state}</p>
      {due !== null && <Notice tone="warn" title={said.due[due.type]} />}
      {moving && <p>{said.moving}</p>}
      {owed.length > 0 && <p>{said.owed(owed.length)}</p>}
      {number > 0 && due === null && !moving && owed.length === 0 && <p>{said.settled}</p>}
    </div>
  );
}

function Aside({ book }: { readonly book: Book }) {
  const desk = useDesk();
  const said = barringWords.aside;
  const byDevice = useMemo(
    () => setAsideIn({ state: book.state(), signed: book.signed, counted: book.counted() }),
    [book, version.value],
  );
  const hidden = leftOut(book.id);
  if (byDevice.size === 0) return null;
  const all = [...byDevice.values()].flat();
  const here = all.filter(({ entry }) => hidden.has(entry.id));
  return (
    <div class="devices-aside">
      <h4>{said.title}</h4>
      <p class="quiet">{said.lead}</p>
      {[...byDevice].map(([device, entries]) => {
        const shown = entries.filter(({ entry }) => !hidden.has(entry.id));
        if (shown.length === 0) return null;
        return (
          <div key={device}>
            <h5>{said.of(deviceIn(desk, device), shown.length)}</h5>
            <ul class="devices-aside-list">
              {shown.map((one) => (
                <AsideLine key={one.entry.id} book={book} device={device} one={one} />
              ))}
            </ul>
          </div>
        );
      })}
      {here.length > 0 && (
        <p>
          {said.left(here.length)}.{" "}
          <Button look="quiet" onClick={() => leaveOut(book.id, [])}>
            {said.again}
          </Button>
        </p>
      )}
    </div>
  );
}

interface AsideLineProps {
  readonly book: Book;
  readonly device: KeyId;
  readonly one: SetAside;
}

function AsideLine({ book, device, one: { entry, why, canBeTaken } }: AsideLineProps) {
  const said = barringWords.aside;
  const told = entryTold(entry, shortNameOf);
  const draft = canBeTaken ? takeOverDraft(entry, book) : null;
  const may = device !== book.device && mayCorrectHere(book, device);
  return (
    <li>
      <p>
        {told}
        <span class="quiet small device-may">
          {said.at(showMoment(entry.at))}, {said.why[why]}
        </span>
      </p>
      {!may ? (
        <p class="quiet small">{said.mayNot}</p>
      ) : (
        <div class="row">
          {draft === null ? (
            <span class="quiet small">{said.cannot}</span>
          ) : (
            <Button aria-label={`${said.take}: ${told}`} onClick={() => void save(book, [draft], said.taken)}>
              {said.take}
            </Button>
          )}
          <Button
            look="quiet"
            aria-label={`${said.leave}: ${told}`}
            onClick={() => leaveOut(book.id, [...leftOut(book.id), entry.id])}
          >
            {said.leave}
          </Button>
        </div>
      )}
    </li>
  );
}
