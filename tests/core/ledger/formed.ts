/** Data that has a form of the ledger's, made from what the form says of itself; and ways to spoil data a little. */
import { fail } from "node:assert";
import fc from "fast-check";
import type * as z from "zod/mini";

type Def = z.core.$ZodTypes["_zod"]["def"];

const ALPHABET = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";

/** Longest text or list that is made, where a form allows more. */
const LONG = 4;

export function formed(form: z.core.$ZodType): fc.Arbitrary<unknown> {
  const def = form._zod.def as Def;
  switch (def.type) {
    case "string":
      return textOf(form);
    case "number": {
      const { minimum, maximum } = limitsOf(def.checks);
      const [min, max] = [minimum ?? fail("a least"), maximum ?? fail("a most")];
      return fc.oneof(fc.constantFrom(min, max), fc.integer({ min: Math.max(min, -1_000), max: Math.min(max, 1_000) }));
    }
    case "boolean":
      return fc.boolean();
    case "literal":
      return fc.constantFrom(...def.values);
    case "enum":
      return fc.constantFrom(...Object.values(def.entries));
    case "nullable":
      return fc.option(formed(def.innerType), { nil: null });
    case "union":
      return fc.oneof(...def.options.map(formed));
    case "array": {
      const { minimum = 0, maximum = LONG } = lengthsOf(def.checks);
      return fc.array(formed(def.element), { minLength: minimum, maxLength: Math.min(maximum, minimum + LONG) });
    }
    case "tuple":
      return fc.tuple(...def.items.map(formed));
    case "record":
      return fc.dictionary(fc.constantFrom("one", "two", "three"), fc.jsonValue({ maxDepth: 1 }));
    case "object": {
      const members = Object.entries(def.shape);
      const optional = members.filter(([, member]) => (member._zod.def as Def).type === "optional");
      const shape = Object.fromEntries(
        members.map(([name, member]) => {
          const inner = member._zod.def as Def;
          return [name, formed(inner.type === "optional" ? inner.innerType : member)];
        }),
      );
      const names = members.map(([name]) => name).filter((name) => !optional.some(([one]) => one === name));
      return fc.record(shape, { requiredKeys: names });
    }
    default:
      return fail(`no data of type ${def.type}`);
  }
}

function textOf(form: z.core.$ZodType): fc.Arbitrary<string> {
  const def = form._zod.def as z.core.$ZodStringDef & { readonly format?: string };
  if (def.format === "date") return fc.constantFrom("2026-05-01", "2024-02-29", "1999-12-31");
  for (const check of def.checks ?? []) {
    const { pattern } = check._zod.def as { readonly pattern?: RegExp };
    if (pattern === undefined) continue;
    const exact = /\{(\d+)\}\$$/.exec(pattern.source)?.[1];
    if (pattern.source.startsWith("^[A-Za-z0-9_-]")) {
      const length = exact === undefined ? { maxLength: 12 } : { minLength: Number(exact), maxLength: Number(exact) };
      return fc.string({ unit: fc.constantFrom(...ALPHABET), ...length });
    }
    return fc.constantFrom("00:00", "23:59", "10:30");
  }
  const { minimum = 0, maximum = 80 } = lengthsOf(def.checks);
  const plain = fc.string({ minLength: minimum, maxLength: Math.min(maximum, 12) });
  const other = fc.string({ unit: "grapheme", minLength: minimum, maxLength: 3 });
  return fc.oneof({ weight: 8, arbitrary: plain }, { weight: 1, arbitrary: other }, fc.constant("x".repeat(maximum)));
}

type Checks = Def["checks"];

function limitsOf(checks: Checks): { minimum?: number; maximum?: number } {
  const found: { minimum?: number; maximum?: number } = {};
  for (const check of checks ?? []) {
    const def = check._zod.def as { readonly check: string; readonly value: number };
    if (def.check === "greater_than") found.minimum = def.value;
    if (def.check === "less_than") found.maximum = def.value;
  }
  return found;
}

const lengthsOf = (checks: Checks): { minimum?: number; maximum?: number } =>
  Object.assign({}, ...(checks ?? []).map(({ _zod: { def } }) => def)) as { minimum?: number; maximum?: number };

/** In one place of the data something else: a neighbour of what stood there, or something of another kind. */
export const spoilt: fc.Arbitrary<(data: unknown) => unknown> = fc
  .record({
    at: fc.nat(),
    to: fc.constantFrom<(from: unknown) => unknown>(
      (from) => (typeof from === "number" ? from + 1 : `${String(from)}x`),
      (from) => (typeof from === "number" ? from - 1 : [...String(from)].slice(1).join("")),
      (from) => (typeof from === "number" ? from + 0.5 : ""),
      (from) => (Array.isArray(from) ? [...(from as unknown[]), ...(from as unknown[])] : [from]),
      () => null,
      () => ({}),
      () => true,
      () => "2023-02-29",
      (from) => (typeof from === "object" && from !== null ? { ...from, other: 1 } : from),
      (from) => (typeof from === "object" && from !== null ? Object.fromEntries(Object.entries(from).slice(1)) : from),
      () => "x".repeat(25_000),
    ),
  })
  .map(({ at, to }) => (data) => {
    const places: (() => void)[] = [];
    const copy = structuredClone(data);
    const walk = (holder: Record<string, unknown>): void => {
      for (const [name, inner] of Object.entries(holder)) {
        places.push(() => {
          holder[name] = to(inner);
        });
        if (typeof inner === "object" && inner !== null) walk(inner as Record<string, unknown>);
      }
    };
    const whole = { whole: copy };
    walk(whole as Record<string, unknown>);
    places[at % places.length]?.();
    return whole.whole;
  });
