/** Medians of repeated runs, and ratios within one run: a machine's speed drifts, so a figure alone says little. */

export interface Figure {
  readonly what: string;
  /** Games or entries of the book, where the figure is one of a row that grows. */
  readonly size?: number;
  readonly value: number;
  readonly unit: "ms";
  readonly least: number;
  readonly most: number;
  readonly runs: number;
  /** The bare floor measured in the same run: what it is, its median, and how many times as long ours took. */
  readonly floor?: { readonly what: string; readonly value: number; readonly ratio: number };
  readonly aim?: string;
}

export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length >> 1;
  const high = sorted[middle] ?? Number.NaN;
  return sorted.length % 2 === 1 ? high : ((sorted[middle - 1] ?? high) + high) / 2;
}

/** Milliseconds of each of `runs` runs, after one that is not counted where there are more than three. `prepare` is not timed. */
export async function timed<T>(
  runs: number,
  prepare: () => T | Promise<T>,
  run: (prepared: T) => unknown | Promise<unknown>,
): Promise<number[]> {
  const times: number[] = [];
  for (let n = runs > 3 ? -1 : 0; n < runs; n += 1) {
    const prepared = await prepare();
    const from = performance.now();
    await run(prepared);
    const took = performance.now() - from;
    if (n >= 0) times.push(took);
  }
  return times;
}

export function figure(
  what: string,
  times: readonly number[],
  more: {
    readonly size?: number;
    readonly floor?: { readonly what: string; readonly times: readonly number[] };
    readonly aim?: string;
  } = {},
): Figure {
  const own = median(times);
  const floor =
    more.floor === undefined
      ? {}
      : {
          floor: {
            what: more.floor.what,
            value: median(more.floor.times),
            ratio: own / median(more.floor.times),
          },
        };
  return {
    what,
    value: own,
    unit: "ms",
    least: Math.min(...times),
    most: Math.max(...times),
    runs: times.length,
    ...floor,
    ...(more.size === undefined ? {} : { size: more.size }),
    ...(more.aim === undefined ? {} : { aim: more.aim }),
  };
}

export function row({ what, size, value, unit, least, most, runs, floor, aim }: Figure): string {
  const name = size === undefined ? what : `${what}, ${size.toLocaleString("en")}`;
  const number = (n: number): string => (n < 10 ? n.toFixed(2) : n < 100 ? n.toFixed(1) : n.toFixed(0));
  const spread = `${number(least)}..${number(most)}, ${runs} runs`;
  const compared = floor === undefined ? "" : `${floor.ratio.toFixed(2)} x ${number(floor.value)} ms, ${floor.what}`;
  const aimed = aim === undefined ? "" : `   (aim: ${aim})`;
  return `${name.padEnd(50)} ${number(value).padStart(7)} ${unit}  ${spread.padEnd(26)} ${compared}${aimed}`;
}
