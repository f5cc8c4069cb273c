/**
 * What a screen costs once the state is there: the app's own list of members, of which it draws what is near the screen, and its card
 * of one of them, each until the browser has laid it out. The floor makes the same nodes, with the same attributes and texts, by hand.
 */
import type { BookState, PlayerId } from "@sward/core";
import type { ComponentChildren } from "preact";
import { h, render } from "preact";
import { LocationProvider } from "preact-iso";
import { CardScreen } from "../src/app/card/card-screen.tsx";
import { desk } from "../src/app/desk-store.ts";
import { MembersScreen } from "../src/app/members/members-screen.tsx";
import "../src/app/tokens.css";
import "../src/app/base.css";
import type { Desk } from "../src/desk/desk.ts";
import { ledgerOfGames } from "./browser-ledger.ts";
import type { Figure } from "./measure.ts";
import { figure, timed } from "./measure.ts";

export async function benchRender(size: number, runs: number): Promise<Figure[]> {
  const ledger = await ledgerOfGames(size);
  const state = ledger.state();
  desk.value = standIn(state);
  const [player = "" as PlayerId] = state.cards.keys();
  // Asked for by a line of it a card is drawn in one go, and not its front before the rest.
  const line = String((state.cards.get(player)?.lines.length ?? 0) - 1);
  const screens = [
    ["render the list of members", () => h(MembersScreen, { params: {}, query: {} }), ".roll-name"],
    ["render a card", () => h(CardScreen, { params: { player }, query: { line } }), ".card-line"],
  ] as const;
  const host = document.getElementById("app") as HTMLElement;
  const figures: Figure[] = [];
  for (const [what, screen, row] of screens) {
    const empty = (): void => render(null, host);
    const ours = await timed(runs, empty, () => {
      draw(screen(), host);
      if (host.querySelector(row) === null) throw new Error(`${what}: nothing was drawn`);
    });
    const nodes = copyOf(host);
    empty();
    const byHand = await timed(
      runs,
      () => host.replaceChildren(),
      () => {
        host.append(...nodes.map(made));
        laidOut(host);
      },
    );
    host.replaceChildren();
    figures.push(figure(what, ours, { size, floor: { what: "the same nodes set by hand", times: byHand } }));
  }
  desk.value = null;
  return figures;
}

function draw(screen: ComponentChildren, host: HTMLElement): void {
  render(h(LocationProvider, null, screen), host);
  laidOut(host);
}

const laidOut = (host: HTMLElement): number => host.offsetHeight;

type Copy =
  | string
  | {
      readonly name: string;
      readonly ns: string | null;
      readonly attributes: [string, string][];
      readonly inside: Copy[];
    };

const copyOf = (of: Element): Copy[] =>
  [...of.childNodes].flatMap((node): Copy[] => {
    if (!(node instanceof Element)) return [node.textContent ?? ""];
    const attributes = [...node.attributes].map(({ name, value }): [string, string] => [name, value]);
    return [{ name: node.localName, ns: node.namespaceURI, attributes, inside: copyOf(node) }];
  });

function made(copy: Copy): Node {
  if (typeof copy === "string") return document.createTextNode(copy);
  const element = document.createElementNS(copy.ns, copy.name);
  for (const [name, value] of copy.attributes) element.setAttribute(name, value);
  for (const one of copy.inside) element.append(made(one));
  return element;
}

/** As much of a desk as these two screens read: a record with a state, and nobody's names. */
function standIn(state: BookState): Desk {
  const club = {
    id: state.book,
    device: state.book,
    state: () => state,
    roster: {
      get: (player: PlayerId) => ({ name: `Member ${player.slice(-5)}`, short: player.slice(-5) }),
      erased: () => undefined,
      erasures: () => new Map(),
    },
    custody: () => "relay",
    waiting: () => 0,
    connection: () => ({ type: "offline" }),
    progress: () => null,
    trouble: () => null,
    halted: () => null,
    caughtUp: () => true,
    counted: () => [],
    entries: () => [],
  };
  const books = new Map([[club.id, club]]);
  return { club, leagues: [], books, today: () => "2026-10-31", isPaused: () => false } as unknown as Desk;
}
