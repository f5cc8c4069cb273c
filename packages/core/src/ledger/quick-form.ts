/**
 * The forms of `kinds.ts` as plain checks, for the thousands of entries of a record that is joined. A form is compiled once; what it
 * then says of parsed JSON is "surely": it has the form, its members stand in canonical order, and the form would hand it back as it
 * is. Everything else, whether it has the form or not, is for the form itself to decide, which takes ten times as long and says what
 * is wrong. So there is one place where a form is written, and a check that knows a part of it too little costs time only.
 *
 * Rejected: checks written by hand, kind by kind (a second place where a form is written), and zod's own compiled ones (made with
 * `Function`, which the page's policy forbids).
 */
import type * as z from "zod/mini";
import { byCodeUnits } from "../order.ts";

/** Whether JSON data surely has the form, each object's members in the order of RFC 8785. */
export type Surely = (data: unknown) => boolean;

const never: Surely = () => false;

type Form = z.core.$ZodType;

/** What a form says of itself. */
type Def = z.core.$ZodTypes["_zod"]["def"];

export function surelyOf(form: Form): Surely {
  const def = form._zod.def as Def;
  const inner = insideOf(def);
  if (inner === null) return never;
  const checks = (def.checks ?? []).map(surelyChecked);
  const own = def.type === "string" && "check" in def ? [surelyChecked(form as unknown as z.core.$ZodCheck)] : [];
  const all = [...own, ...checks];
  return all.reduce((before, check) => (data) => before(data) && check(data), inner);
}

function insideOf(def: Def): Surely | null {
  switch (def.type) {
    case "string":
      return (data) => typeof data === "string";
    case "number":
      return "format" in def && def.format === "safeint" ? Number.isSafeInteger : null;
    case "boolean":
      return (data) => typeof data === "boolean";
    case "literal": {
      const values: ReadonlySet<unknown> = new Set(def.values);
      return (data) => values.has(data);
    }
    case "enum": {
      const values: ReadonlySet<unknown> = new Set(Object.values(def.entries));
      return (data) => values.has(data);
    }
    case "nullable": {
      const inner = surelyOf(def.innerType);
      return (data) => data === null || inner(data);
    }
    case "union": {
      const options = def.options.map(surelyOf);
      return (data) => options.some((option) => option(data));
    }
    case "array": {
      const element = surelyOf(def.element);
      return (data) => Array.isArray(data) && data.every(element);
    }
    case "tuple": {
      const items = def.items.map(surelyOf);
      if (def.rest !== null) return null;
      return (data) => Array.isArray(data) && data.length === items.length && items.every((item, n) => item(data[n]));
    }
    case "object":
      return surelyObject(def);
    default:
      return null;
  }
}

function surelyObject({ shape, catchall }: z.core.$ZodObjectDef): Surely | null {
  if (catchall?._zod.def.type !== "never") return null;
  const members = Object.keys(shape)
    .sort(byCodeUnits)
    .map((name) => memberOf(name, shape[name] as Form));
  return (data) => {
    if (typeof data !== "object" || data === null || Array.isArray(data)) return false;
    let at = 0;
    for (const name of Object.keys(data)) {
      let member = members[at];
      while (member?.isOptional === true && member.name !== name) {
        at += 1;
        member = members[at];
      }
      if (member?.name !== name || !member.has((data as Record<string, unknown>)[name])) return false;
      at += 1;
    }
    for (; at < members.length; at += 1) if (members[at]?.isOptional !== true) return false;
    return true;
  };
}

function memberOf(name: string, form: Form): { name: string; isOptional: boolean; has: Surely } {
  const def = form._zod.def as Def;
  const isOptional = def.type === "optional";
  return { name, isOptional, has: surelyOf(isOptional ? def.innerType : form) };
}

function surelyChecked(check: z.core.$ZodCheck<never>): (data: unknown) => boolean {
  const def = check._zod.def as z.core.$ZodChecks["_zod"]["def"];
  switch (def.check) {
    case "greater_than":
      return (data) => (data as number) > (def.value as number) || (def.inclusive && data === def.value);
    case "less_than":
      return (data) => (data as number) < (def.value as number) || (def.inclusive && data === def.value);
    case "min_length":
      return (data) => (data as { readonly length: number }).length >= def.minimum;
    case "max_length":
      return (data) => (data as { readonly length: number }).length <= def.maximum;
    case "string_format": {
      const pattern = "pattern" in def ? def.pattern : undefined;
      // One that remembers where it stopped would answer by what it was asked before.
      return pattern === undefined || pattern.global || pattern.sticky ? never : (data) => pattern.test(data as string);
    }
    default:
      return never;
  }
}
