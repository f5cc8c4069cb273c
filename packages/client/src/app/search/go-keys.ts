/** Screens by the letter after `g`. With the first script; screens.ts, which has their words, is fetched later. */
import { places } from "../place.ts";

export const goKeys = {
  a: places.attention,
  m: places.members,
  e: places.entry,
  l: places.league,
  x: places.strokes,
  s: places.sharing,
  c: places.check,
  p: places.lawn,
  r: places.review,
  f: places.files,
  t: places.tables,
} as const;
