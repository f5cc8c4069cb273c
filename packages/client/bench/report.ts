/**
 * The figures as a page: BENCHMARKS.md with its chart beside it. What was aimed at is told with what was measured, met or not: a table
 * that says only how fast something is cannot be wrong.
 */
import type { HeldBook } from "./big-book.ts";
import { bigAims, bigPart } from "./big-report.ts";
import type { InBrowser } from "./browser-figures.ts";
import { browserAims, browserPart } from "./browser-report.ts";
import type { Row } from "./growth.ts";
import { exponentOf } from "./growth.ts";
import type { Figure } from "./measure.ts";
import type { Memory } from "./memory.ts";
import { ms, stageTable, table } from "./tables.ts";

export interface Measured {
  readonly machine: string;
  readonly rows: readonly Row[];
  readonly others: readonly Figure[];
  readonly memory: readonly Memory[];
  readonly big: HeldBook | null;
  /** Null: nothing was measured in a browser. */
  readonly inBrowser: InBrowser | null;
}

export interface Aim {
  readonly what: string;
  readonly aim: string;
  readonly measured: string;
  readonly met: boolean;
}

export function pageOf(measured: Measured): string {
  const { machine, rows, others, memory, inBrowser } = measured;
  return `# Benchmarks

Made by \`npm run bench -- --write\`; not edited by hand. ${machine}

Each cell is the median of repeated runs in milliseconds, and in brackets how many times the floor of the same run it took. A floor is
what the platform needs for the bare operation on the same bytes, with nothing of ours around it. The machine was shared while this was
measured, so ratios say more than milliseconds. The exponent is the slope of the best straight line through the logarithms from 10,000
up: 1 means that ten times the book costs ten times as much. Sizes are entries of one signed book of sixty members; from \`reconcile\` on
they are games over one card for each fifty, so a million games lie on 20,000 cards and make two million lines.

![Time of each stage by size of the book, with its floor, under Node and in a browser](benchmarks.svg)

${stageTable(rows)}

## Saving one match

${table(
  ["", "ms", "least to most", "floor"],
  others.map(({ what, size, value, least, most, floor }) => [
    size === undefined ? what : `${what}, book of ${size.toLocaleString("en")}`,
    ms(value),
    `${ms(least)} to ${ms(most)}`,
    floor === undefined ? "" : `${floor.ratio.toFixed(2)} x ${ms(floor.value)} ms, ${floor.what}`,
  ]),
)}

## Memory

Bytes for each entry, heap and buffers, after a collection, under Node, whose pointers are twice as long as a browser's. The ledger holds
every entry once, a report as the facts that its match and its two cards read too, and the rows it has on those cards. Of the signed text
no more is kept than the signature and where its envelope lies, for the text is made again from the entry when somebody asks. What is
there twice is the document: it holds the sealed envelopes for as long as the book is synchronised, since they are what other devices are
sent, and no two sealings of one text are alike.

${table(
  ["entries", "ledger", "document", "signature and place"],
  memory.map(({ size, ledger, document, text }) => [size.toLocaleString("en"), `${ledger}`, `${document}`, `${text}`]),
)}

${bigPart([
  ["Node", measured.big],
  [inBrowser?.browser ?? "", inBrowser?.big],
])}${inBrowser === null ? "" : browserPart(inBrowser)}
## What was aimed at

${table(
  ["", "aim", "measured", ""],
  allAims(measured).map(({ what, aim, measured: said, met }) => [what, aim, said, met ? "reached" : "**not reached**"]),
)}

Why not, where it is not. A card is rows of integers, and folding them is a loop over integers, as its floor is. Before it every match is
written to a row on each of its cards: sorted there, its player's side found, its exchange looked up under the rules of its day. That reads
one object of each match, twice, from all over the memory, where filling the arrays of the floor reads each report once and sorts all by day
alone. Bringing reports together names every match and looks for it among all, as a Map by the same keys does, whose own time grows faster
still: in a small book what is looked at is at hand, in a large one each look waits for the memory.
It is done once for each match, when it comes to a card; later games fold rows and write their own. Lines that people read are made when
they read them, and are a row of their own in the table. A cold start is measured where nothing else is in memory, and so are its floors:
those of reading the vault, reading and loading the document, admitting, and of bringing reports together and folding every card, which it
does from nothing. Of what is derived it takes over from the last start only how signatures stand. Four starts before it are not counted,
and more where four have read less than 40,000 entries, for the platform's own code, of which the floors are, is always warm. The very first
one is a row of its own: of a small book it goes mostly into code that has not run before.
`;
}

export const allAims = (measured: Measured): Aim[] => [
  ...aimsOf(measured),
  ...bigAims([
    ["under Node", measured.big],
    [`in ${measured.inBrowser?.browser}`, measured.inBrowser?.big],
  ]),
  ...browserAims(measured.inBrowser),
];

/** What was promised of speed, and whether this run keeps it. */
function aimsOf({ rows, memory }: Pick<Measured, "rows" | "memory">): Aim[] {
  const named = (what: string): Row | undefined => rows.find((row) => row.what === what);
  const times = (what: string, said: string, most: number): Aim[] => {
    const last = named(what)?.figures.at(-1);
    if (last?.floor === undefined) return [];
    const { ratio, what: floor } = last.floor;
    const size = (last.size ?? 0).toLocaleString("en");
    const met = ratio <= most;
    return [{ what: `${said} of ${size}, beside ${floor}`, aim: `${most} x`, measured: `${ratio.toFixed(2)} x`, met }];
  };
  const together = named("reconcile")?.figures.flatMap(({ size = 0, value }) => {
    const fold = (named("write and fold") ?? named("fold"))?.figures.find((one) => one.size === size);
    return fold === undefined || size < 10_000 ? [] : [[size, value + fold.value] as const];
  });
  const growth = exponentOf(together ?? []);
  const last = memory.at(-1);
  return [
    ...times("fold", "replay", 2),
    ...times("write and fold", "replay with its rows written", 2),
    ...(growth === null
      ? []
      : [{ what: "replay, growth", aim: "exponent 1.05", measured: growth.toFixed(2), met: growth <= 1.05 }]),
    ...times("first join, beside signatures alone", "first join", 2),
    ...times("first join, end to end", "first join", 2),
    ...times("cold start, end to end", "cold start", 2),
    ...(last === undefined
      ? []
      : [
          {
            what: `memory for each of ${last.size.toLocaleString("en")} entries, ledger`,
            aim: "600 bytes",
            measured: `${last.ledger} bytes`,
            met: last.ledger < 600,
          },
        ]),
  ];
}
