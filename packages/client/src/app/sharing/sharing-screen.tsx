/** How this device shares: connection, records, devices, storage. */
import type { Book } from "../../book/book.ts";
import type { Connection } from "../../wire/connection.ts";
import { showMoment } from "../dates.ts";
import { lastMet, useDesk } from "../desk-store.ts";
import { DeviceActions } from "../devices/device-actions.tsx";
import { DevicesSection } from "../devices/devices-section.tsx";
import { LockSection } from "../devices/lock-section.tsx";
import { RolesTable } from "../devices/roles-table.tsx";
import { lazyPart } from "../lazy.tsx";
import { leastConnected } from "../least-connected.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import type { Tone } from "../parts/tone.ts";
import { places, useHref } from "../place.ts";
import { printWords } from "../words/print.ts";
import { connectionTold, sharingWords } from "../words/sharing.ts";
import { words } from "../words.ts";
import { BookSection } from "./book-section.tsx";
import { StorageSection } from "./storage-section.tsx";
import "./sharing.css";

const NewKeySection = lazyPart(() => import("../new-key/new-key-section.tsx"), "NewKeySection");
const InviteSection = lazyPart(() => import("../invite/invite-section.tsx"), "InviteSection");

const tones: Readonly<Record<Connection["type"], Tone>> = {
  offline: "warn",
  connecting: "warn",
  live: "good",
  refused: "bad",
  closed: "bad",
};

export function SharingScreen() {
  const desk = useDesk();
  const href = useHref();
  const books: readonly Book[] = [desk.club, ...desk.leagues];
  const connection = leastConnected(books.map((book) => book.connection()));
  const { what, why, todo } = connectionTold(connection);
  const met = lastMet.value;
  return (
    <Page title={sharingWords.title} lead={sharingWords.lead}>
      {books.some((book) => book.halted() !== null) && <NewKeySection />}
      <section aria-label={sharingWords.connection}>
        <h2>{sharingWords.connection}</h2>
        <Notice tone={tones[connection.type]} title={what} live>
          {why !== "" && <p>{why}</p>}
          {todo !== "" && <p>{todo}</p>}
          {connection.type !== "live" && <p>{words.lastMet(met === null ? null : showMoment(met))}</p>}
        </Notice>
        <div class="row">
          <label class="choice">
            <input
              type="checkbox"
              checked={desk.isPaused()}
              aria-describedby="work-offline-hint"
              onChange={(event) => (event.currentTarget.checked ? desk.goOffline() : desk.goOnline())}
            />
            {sharingWords.workOffline}
          </label>
          {(connection.type === "refused" || connection.type === "connecting") && (
            <Button onClick={() => desk.goOnline()}>{sharingWords.tryNow}</Button>
          )}
        </div>
        <p class="quiet small" id="work-offline-hint">
          {sharingWords.workOfflineHint}
        </p>
      </section>
      <h2 class="sharing-head">{sharingWords.books}</h2>
      {books.map((book) => (
        <BookSection key={book.id} book={book} />
      ))}
      <h2 class="sharing-head">{sharingWords.devices}</h2>
      {books.map((book) => (
        <DevicesSection key={book.id} book={book} actions={DeviceActions} />
      ))}
      <p class="quiet">{sharingWords.mayHow}</p>
      {books.map((book) => (
        <LockSection key={book.id} book={book} />
      ))}
      <RolesTable book={desk.club} />
      <InviteSection />
      <StorageSection />
      <h2 class="sharing-head">{printWords.index.title}</h2>
      <p>
        <a href={href(places.print)}>{printWords.index.link}</a>
      </p>
      <p>
        <a href={href(places.files)}>{sharingWords.files}</a>
      </p>
    </Page>
  );
}
