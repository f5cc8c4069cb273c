/**
 * Which relay to dial: the one we were given, and when it fails the next of those that share its store, which it names itself. A device
 * stays where it is as long as that works. Rejected: dialling all of them and taking the quickest, which makes every relay do the
 * work of all.
 *
 * A relay can name any address here, but gains nothing by it: a token names the relay that was dialled, and what comes from
 * any of them passes the same screen.
 */
import type { OtherRelays } from "./connection.ts";

export interface Relays {
  /** The origin to dial now. */
  current(): string;
  /** The one we dialled did not work. */
  next(): void;
  /** What the one we dialled says of others. */
  learn(origins: readonly string[]): void;
}

const most = 8;

export function createRelays(relay: string, others: OtherRelays | undefined): Relays {
  const first = URL.canParse(relay) ? new URL(relay).origin : relay;
  let all = listed([first, ...(others?.known(first) ?? [])], first);
  let place = 0;
  return {
    current: () => all[place] ?? first,
    next: () => {
      place = (place + 1) % all.length;
    },
    learn: (origins) => {
      const here = all[place] ?? first;
      const now = listed([first, ...origins, here], first);
      if (now.join() === all.join()) return;
      all = now;
      place = Math.max(0, all.indexOf(here));
      others?.learned(first, all.slice(1));
    },
  };
}

/** Each once, and only what a browser calls an origin. What came by https goes on by https. */
const listed = (origins: readonly string[], first: string): string[] =>
  [first, ...new Set(origins.filter((origin) => origin !== first && isOrigin(origin, first)))].slice(0, most);

const isOrigin = (text: string, first: string): boolean =>
  URL.canParse(text) &&
  new URL(text).origin === text &&
  (text.startsWith("https:") || (text.startsWith("http:") && !first.startsWith("https:")));
