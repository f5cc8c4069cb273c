/**
 * The choices of a print are in its address, so that a sheet can be bookmarked, sent and gone back to. Read with a default where
 * the address says nothing or nonsense; a hand-written address never breaks a screen.
 */
import { useLocation } from "preact-iso";
import { useHref } from "../place.ts";

export type Query = Readonly<Record<string, string>>;

/** One of the allowed words, else the first of them. */
export function chosen<T extends string>(query: Query, name: string, allowed: readonly [T, ...T[]]): T {
  const asked = query[name];
  return allowed.find((one) => one === asked) ?? allowed[0];
}

/** A whole number within bounds, else `usual`. */
export function chosenNumber(query: Query, name: string, { from, to, usual }: Bounds): number {
  const asked = query[name] ?? "";
  const value = /^\d{1,3}$/.test(asked) ? Number(asked) : usual;
  return value >= from && value <= to ? value : usual;
}

export interface Bounds {
  readonly from: number;
  readonly to: number;
  readonly usual: number;
}

/** Puts choices into the address in place of those there; null takes one out. */
export function useChoose(place: string, query: Query): (change: Readonly<Record<string, string | null>>) => void {
  const { route } = useLocation();
  const href = useHref();
  return (change) => {
    const kept = Object.entries({ ...query, ...change }).flatMap(([name, value]) =>
      value === null ? [] : [[name, value] as const],
    );
    route(href(place, Object.fromEntries(kept)), true);
  };
}
