/** In the header of every screen: how this device stands with the relay, and what is only here so far. */
import type { Connection } from "../../wire/connection.ts";
import { checks, useDesk } from "../desk-store.ts";
import { leastConnected } from "../least-connected.ts";
import { words } from "../words.ts";

/** A shape for each state, so that it can be told without colour or reading. */
const marks: Readonly<Record<Connection["type"], string>> = {
  offline: "◌",
  connecting: "◔",
  live: "●",
  refused: "✕",
  closed: "✕",
};

export function ConnectionBadge({ href }: { readonly href: string }) {
  const desk = useDesk();
  checks.value;
  const books = [desk.club, ...desk.leagues];
  const connection = leastConnected(books.map((book) => book.connection()));
  const waiting = books.reduce((sum, book) => sum + book.waiting(), 0);
  return (
    <a class={`connection connection-${connection.type}`} href={href}>
      <span class="unseen">{words.nav.sharing}: </span>
      <span>
        <span aria-hidden="true">{marks[connection.type]} </span>
        {words.connection(connection)}
      </span>
      {waiting > 0 && (
        <span class="connection-waiting">
          <span aria-hidden="true">{words.waitingShort(waiting)}</span>
          <span class="unseen">. {words.waiting(waiting)}</span>
        </span>
      )}
    </a>
  );
}
