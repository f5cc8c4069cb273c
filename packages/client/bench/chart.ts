/**
 * The chart of the figures: a small panel for each stage, all with the same two logarithmic axes, ours as a line with dots under Node and
 * with squares in a browser, and the floors as broken ones. In one picture together, fifteen lines lie on each other.
 */
import type { Row } from "./growth.ts";

const PANEL = { width: 290, height: 190, left: 52, right: 14, top: 40, bottom: 28 };
const COLUMNS = 3;
const HEAD = 58;

const style = `
  svg { font-family: ui-sans-serif, system-ui, sans-serif; font-size: 12px; background: #fff; }
  text { fill: #1d2a21; } .quiet { fill: #4a564d; font-size: 11px; } .name { font-weight: 600; font-size: 13px; }
  .grid { stroke: #d9ded8; } .ours { stroke: #1b5e35; fill: none; stroke-width: 2; } .dot { fill: #1b5e35; }
  .floor { stroke: #8a4b08; fill: none; stroke-width: 2; stroke-dasharray: 5 4; }
  .page { stroke: #22508f; fill: none; stroke-width: 2; } .mark { fill: #22508f; }
  .page-floor { stroke: #6b5e8a; fill: none; stroke-width: 2; stroke-dasharray: 2 4; }
  @media (prefers-color-scheme: dark) {
    svg { background: #141a16; } text { fill: #eef2ee; } .quiet { fill: #b9c3bb; } .grid { stroke: #354039; }
    .ours { stroke: #7fd39b; } .dot { fill: #7fd39b; } .floor { stroke: #f0b267; }
    .page { stroke: #9cc0f5; } .mark { fill: #9cc0f5; } .page-floor { stroke: #c3b6e6; }
  }`;

/** @param browserRows the same stages in a real browser, and what only a browser does */
export function chartOf(nodeRows: readonly Row[], browserRows: readonly Row[] = []): string {
  const names = [...new Set([...nodeRows, ...browserRows].map(({ what }) => what))];
  const of = (all: readonly Row[], what: string): Row | undefined => all.find((one) => one.what === what);
  const rows = [...nodeRows, ...browserRows];
  const sizes = rows.flatMap(({ figures }) => figures.map(({ size }) => size ?? 1));
  const costs = rows.flatMap(({ figures }) =>
    figures.flatMap(({ value, floor }) => [drawn(value), drawn(floor?.value ?? value)]),
  );
  const across = logScale(Math.min(...sizes), Math.max(...sizes), PANEL.left, PANEL.width - PANEL.right);
  const up = logScale(Math.min(...costs), Math.max(...costs), PANEL.height - PANEL.bottom, PANEL.top);
  const width = COLUMNS * PANEL.width;
  const height = HEAD + Math.ceil(names.length / COLUMNS) * PANEL.height;
  const panels = names.map((what, n) => {
    const [x, y] = [(n % COLUMNS) * PANEL.width, HEAD + Math.floor(n / COLUMNS) * PANEL.height];
    return `<g transform="translate(${x} ${y})">\n${panel(what, [of(nodeRows, what), of(browserRows, what)], across, up)}\n</g>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="title says">
<title id="title">Time of each stage by size of the book</title>
<desc id="says">${[...nodeRows.map(said("")), ...browserRows.map(said(" in a browser"))].join("; ")}.</desc>
<style>${style}</style>
<text class="name" x="16" y="24">Milliseconds by games or entries, both axes logarithmic</text>
<line class="ours" x1="16" x2="44" y1="42" y2="42"/><circle class="dot" cx="30" cy="42" r="3.5"/><text x="52" y="46">ours</text>
<line class="floor" x1="100" x2="128" y1="42" y2="42"/><text x="136" y="46">the floor of the same run</text>
<line class="page" x1="310" x2="338" y1="42" y2="42"/><rect class="mark" x="320.5" y="38.5" width="7" height="7"/><text x="346" y="46">ours in a browser</text>
<line class="page-floor" x1="470" x2="498" y1="42" y2="42"/><text x="506" y="46">the floor in a browser</text>
${panels.join("\n")}
</svg>
`;
}

type Scale = { readonly at: (value: number) => number; readonly ticks: readonly number[] };

function logScale(least: number, most: number, from: number, to: number): Scale {
  const [low, high] = [Math.floor(Math.log10(least)), Math.ceil(Math.log10(most))];
  const at = (value: number): number => from + ((Math.log10(value) - low) / Math.max(1, high - low)) * (to - from);
  return { at, ticks: Array.from({ length: high - low + 1 }, (_, n) => 10 ** (low + n)) };
}

type Pair = readonly [underNode: Row | undefined, inBrowser: Row | undefined];

function panel(what: string, [underNode, inBrowser]: Pair, across: Scale, up: Scale): string {
  const { width, height, left, right, bottom } = PANEL;
  const round = (n: number): string => n.toFixed(1);
  const path = (points: readonly (readonly [number, number])[]): string =>
    points.map(([x, y], n) => `${n === 0 ? "M" : "L"}${round(across.at(x))} ${round(up.at(y))}`).join("");
  const grows = [underNode, inBrowser].flatMap((row) => row?.exponent?.toFixed(2) ?? []);
  const growth = grows.length === 0 ? "" : `grows as size^${grows.join(", in a browser ^")}`;
  return [
    `<text class="name" x="16" y="14">${what}</text><text class="quiet" x="16" y="29">${growth}</text>`,
    ...up.ticks.map((tick) => {
      const y = round(up.at(tick));
      return `<line class="grid" x1="${left}" x2="${width - right}" y1="${y}" y2="${y}"/><text class="quiet" text-anchor="end" x="${left - 6}" y="${round(up.at(tick) + 4)}">${short(tick)}</text>`;
    }),
    ...across.ticks.map(
      (tick) =>
        `<text class="quiet" text-anchor="middle" x="${round(across.at(tick))}" y="${height - bottom + 16}">${short(tick)}</text>`,
    ),
    `<path class="page-floor" d="${path(floorsOf(inBrowser))}"/>`,
    `<path class="floor" d="${path(floorsOf(underNode))}"/>`,
    `<path class="page" d="${path(oursOf(inBrowser))}"/>`,
    `<path class="ours" d="${path(oursOf(underNode))}"/>`,
    ...oursOf(inBrowser).map(
      ([x, y]) =>
        `<rect class="mark" x="${round(across.at(x) - 3.5)}" y="${round(up.at(y) - 3.5)}" width="7" height="7"/>`,
    ),
    ...oursOf(underNode).map(
      ([x, y]) => `<circle class="dot" cx="${round(across.at(x))}" cy="${round(up.at(y))}" r="3.5"/>`,
    ),
  ].join("\n");
}

type Points = readonly (readonly [size: number, ms: number])[];

const oursOf = (row: Row | undefined): Points =>
  (row?.figures ?? []).map(({ size = 1, value }) => [size, drawn(value)]);
const floorsOf = (row: Row | undefined): Points =>
  (row?.figures ?? []).flatMap(({ size = 1, floor }) =>
    floor === undefined ? [] : [[size, drawn(floor.value)] as const],
  );

/** A browser's clock has steps of a tenth of a millisecond: less than one reads as nothing, which has no logarithm. */
const drawn = (ms: number): number => Math.max(0.05, ms);

const said =
  (where: string) =>
  ({ what, figures }: Row): string => {
    const last = figures.at(-1);
    return last === undefined
      ? what
      : `${what}${where}: ${last.value.toPrecision(3)} ms at ${(last.size ?? 0).toLocaleString("en")}`;
  };

const short = (n: number): string =>
  n >= 1e6 ? `${n / 1e6}M` : n >= 1e3 ? `${n / 1e3}k` : String(Number(n.toPrecision(1)));
