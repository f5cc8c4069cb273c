/** Figures of one run and how they are laid side by side. A machine's speed drifts, so what counts are the ratios in a row. */
import type { ServerName } from "./caller.ts";

export interface Figure {
  readonly what: string;
  readonly unit: "ms" | "per s" | "kB" | "%" | "s";
  readonly value: number;
}

export function share(values: readonly number[], part: number): number {
  const sorted = [...values].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? Number.NaN;
}

export const delaysOf = (what: string, values: readonly number[]): Figure[] =>
  (
    [
      ["p50", 0.5],
      ["p95", 0.95],
      ["p99", 0.99],
    ] as const
  ).map(([name, part]) => ({
    what: `${what}, ${name}`,
    unit: "ms",
    value: share(values, part),
  }));

const shown = (value: number): string =>
  Number.isNaN(value) ? "–" : value < 10 ? value.toFixed(2) : value < 100 ? value.toFixed(1) : value.toFixed(0);

/** A table in Markdown, a row a figure, a column a server; ratios to the floor in brackets. */
export function table(results: ReadonlyMap<ServerName, readonly Figure[]>): string {
  const servers = [...results.keys()];
  const rows = (results.get(servers[0] as ServerName) ?? []).map(({ what, unit }) => {
    const floor = results.get("floor")?.find((one) => one.what === what)?.value;
    const cells = servers.map((server) => {
      const value = results.get(server)?.find((one) => one.what === what)?.value ?? Number.NaN;
      const ratio =
        floor === undefined || server === "floor" || floor === 0 ? "" : ` (${(value / floor).toFixed(2)} ×)`;
      return `${shown(value)}${ratio}`;
    });
    return `| ${what}, ${unit} | ${cells.join(" | ")} |`;
  });
  return [`| | ${servers.join(" | ")} |`, `|---|${servers.map(() => "---:|").join("")}`, ...rows].join("\n");
}
