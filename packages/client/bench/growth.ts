/** How cost grows: figures of one kind at several sizes, and the exponent that fits them best. */
import type { Figure } from "./measure.ts";

export interface Row {
  readonly what: string;
  /** Ascending by size, one of each. */
  readonly figures: readonly Figure[];
  /** Of cost = constant * size ** exponent, from ten thousand up; null with fewer than two sizes. */
  readonly exponent: number | null;
  readonly floorExponent: number | null;
}

/** Below this a just-in-time compiler is measured, and not a book. */
const FITTED_FROM = 10_000;

export function rowsOf(figures: readonly Figure[]): Row[] {
  const names = [...new Set(figures.filter(({ size }) => size !== undefined).map(({ what }) => what))];
  return names.map((what) => {
    const own = figures.filter((one) => one.what === what).sort((a, b) => (a.size ?? 0) - (b.size ?? 0));
    const points = own.filter(({ size = 0 }) => size >= FITTED_FROM);
    return {
      what,
      figures: own,
      exponent: exponentOf(points.map(({ size = 0, value }) => [size, value])),
      floorExponent: exponentOf(points.flatMap(({ size = 0, floor }) => (floor ? [[size, floor.value] as const] : []))),
    };
  });
}

/** The slope of the straight line that fits the logarithms with the least squares. */
export function exponentOf(points: readonly (readonly [size: number, cost: number])[]): number | null {
  if (new Set(points.map(([size]) => size)).size < 2) return null;
  const logs = points.map(([size, cost]) => [Math.log(size), Math.log(cost)] as const);
  const mean = (at: 0 | 1): number => logs.reduce((sum, one) => sum + one[at], 0) / logs.length;
  const [meanSize, meanCost] = [mean(0), mean(1)];
  const along = logs.reduce((sum, [size, cost]) => sum + (size - meanSize) * (cost - meanCost), 0);
  return along / logs.reduce((sum, [size]) => sum + (size - meanSize) ** 2, 0);
}
