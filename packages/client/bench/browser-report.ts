/** The browser's part of the page: its stages beside their floors, the built app as somebody sees it, and what was aimed at. */
import type { InBrowser, Seen } from "./browser-figures.ts";
import { isReached } from "./browser-figures.ts";
import { rowsOf } from "./growth.ts";
import type { Aim } from "./report.ts";
import { ms, stageTable, table } from "./tables.ts";

export function browserPart({ browser, machine, size, stages, seen, left }: InBrowser): string {
  return `## In a real browser

${machine} ${browser}, headless, with its own IndexedDB, WebCrypto and layout. The same stages as above, alone in a page of their own, all
in the page's thread; the floor of loading is one getAll of the same records, and \`render\` is the app's own list of members (one for each
fifty games) and its own card, until the browser has laid them out, beside the same nodes set by hand. Above 30,000 one run each, but for
\`render\`.

${stageTable(rowsOf(stages))}
${left.length === 0 ? "" : `\nNot measured:\n\n${left.map((one) => `- ${one}`).join("\n")}\n`}
Stages of a start are not measured alone at 1,000,000 in a browser: as many signed texts and envelopes, with what is made of them, are more
than a page may hold. Such a book is opened whole, above.

## The built app, as somebody sees it

The app as it is served, in a book of ${size.toLocaleString("en")} entries of sixty members, each signed by its device and sealed alone, in a
volume for each of ten seasons. "Times as slowly" is the page's thread slowed by the browser's own throttle; its workers go as fast as they
can. Each start, and the page of the late game, is in a process of its own, in which no page of ours has run before: one that is still there
has the scripts and the language's tables at hand, and leaves its rubbish to be collected. A moment counts when the frame that shows it has
been drawn. "Current" is when what the club played meanwhile is on the screen, the band says that the device is in step, and nothing is
being read. A late game is dated a year back and shifts every line after it; a screen is right when its own numbers are. The thread's work
is what the processor did for the page's thread until then, however busy the machine was with something else. A finger presses, and a press
counts from when the page hears of it; before that a browser makes out whether the finger pressed or scrolled. Before each first join the bare
signatures are measured anew. Nobody is told what goes on in a page: to have a browser tell of twenty megabytes of messages, as what drives a
page in a test does, takes it a sixth of the join, and to have it tell of errors has it read a script anew for each that is made.

${table(
  ["", "ms", "least to most", "thread's work, ms", "longest task, ms", "beside"],
  seen.map((one) => [
    one.what + (one.slower === 1 ? "" : `, ${one.slower} times as slowly`),
    said(one, one.value),
    `${said(one, one.least)} to ${said(one, one.most)}`,
    one.work === null ? "" : ms(one.work),
    task(one.task),
    [
      one.floor === null ? "" : `${(one.value / one.floor.ms).toFixed(2)} x ${ms(one.floor.ms)} ms, ${one.floor.what}`,
      one.note,
    ]
      .filter((part) => part !== "")
      .join("; "),
  ]),
)}
`;
}

/** A browser tells of no task that is shorter. */
const task = (value: number): string => (value === 0 ? "under 50" : ms(value));

const said = ({ kind }: Seen, value: number): string => (/longest task/.test(kind) ? task(value) : ms(value));

/** What was promised of the app in a browser, and whether this run keeps it: of several of a kind the slowest. */
export function browserAims(measured: InBrowser | null): Aim[] {
  const kinds = new Map<string, Seen>();
  for (const one of measured?.seen ?? []) {
    if (one.aim === null) continue;
    const worst = kinds.get(one.kind);
    if (worst === undefined || one.value > worst.value) kinds.set(one.kind, one);
  }
  const size = (measured?.size ?? 0).toLocaleString("en");
  return [...kinds].map(([kind, worst]) => ({
    what: `${kind}, ${size} entries in a browser${worst.slower === 1 ? "" : `, ${worst.slower} times as slowly`}`,
    aim:
      worst.floor === null
        ? `${ms(worst.aim ?? 0)} ms`
        : `${((worst.aim ?? 0) / worst.floor.ms).toFixed(0)} x ${worst.floor.what}`,
    measured:
      worst.floor === null ? `${said(worst, worst.value)} ms` : `${(worst.value / worst.floor.ms).toFixed(2)} x`,
    met: isReached(worst),
  }));
}
