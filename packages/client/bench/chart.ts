/**
 * The chart of the figures: a small panel for each stage, all with the same two logarithmic axes, ours as a line with dots and the floor
 * as a dashed one. In one picture together, fifteen lines lie on each other.
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
  @media (prefers-color-scheme: dark) {
    svg { background: #141a16; } text { fill: #eef2ee; } .quiet { fill: #b9c3bb; } .grid { stroke: #354039; }
    .ours { stroke: #7fd39b; } .dot { fill: #7fd39b; } .floor { stroke: #f0b267; }
  }`;

export function chartOf(rows: readonly Row[]): string {
  const sizes = rows.flatMap(({ figures }) => figures.map(({ size }) => size ?? 1));
  const costs = rows.flatMap(({ figures }) => figures.flatMap(({ value, floor }) => [value, floor?.value ?? value]));
  const across = logScale(Math.min(...sizes), Math.max(...sizes), PANEL.left, PANEL.width - PANEL.right);
  const up = logScale(Math.min(...costs), Math.max(...costs), PANEL.height - PANEL.bottom, PANEL.top);
  const width = COLUMNS * PANEL.width;
  const height = HEAD + Math.ceil(rows.length / COLUMNS) * PANEL.height;
  const panels = rows.map((row, n) => {
    const [x, y] = [(n % COLUMNS) * PANEL.width, HEAD + Math.floor(n / COLUMNS) * PANEL.height];
    return `<g transform="translate(${x} ${y})">\n${panel(row, across, up)}\n</g>`;
  });
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${width} ${height}" width="${width}" height="${height}" role="img" aria-labelledby="title says">
<title id="title">Time of each stage by size of the book</title>
<desc id="says">${rows.map(said).join("; ")}.</desc>
<style>${style}</style>
<text class="name" x="16" y="24">Milliseconds by games or entries, both axes logarithmic</text>
<line class="ours" x1="16" x2="44" y1="42" y2="42"/><circle class="dot" cx="30" cy="42" r="3.5"/><text x="52" y="46">ours</text>
<line class="floor" x1="100" x2="128" y1="42" y2="42"/><text x="136" y="46">the floor of the same run</text>
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

function panel({ what, figures, exponent }: Row, across: Scale, up: Scale): string {
  const { width, height, left, right, bottom } = PANEL;
  const round = (n: number): string => n.toFixed(1);
  const path = (points: readonly (readonly [number, number])[]): string =>
    points.map(([x, y], n) => `${n === 0 ? "M" : "L"}${round(across.at(x))} ${round(up.at(y))}`).join("");
  const ours = figures.map(({ size = 1, value }) => [size, value] as const);
  const floors = figures.flatMap(({ size = 1, floor }) => (floor === undefined ? [] : [[size, floor.value] as const]));
  const growth = exponent === null ? "" : `grows as size^${exponent.toFixed(2)}`;
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
    `<path class="floor" d="${path(floors)}"/>`,
    `<path class="ours" d="${path(ours)}"/>`,
    ...ours.map(([x, y]) => `<circle class="dot" cx="${round(across.at(x))}" cy="${round(up.at(y))}" r="3.5"/>`),
  ].join("\n");
}

const said = ({ what, figures }: Row): string => {
  const last = figures.at(-1);
  return last === undefined
    ? what
    : `${what}: ${last.value.toPrecision(3)} ms at ${(last.size ?? 0).toLocaleString("en")}`;
};

const short = (n: number): string =>
  n >= 1e6 ? `${n / 1e6}M` : n >= 1e3 ? `${n / 1e3}k` : String(Number(n.toPrecision(1)));
