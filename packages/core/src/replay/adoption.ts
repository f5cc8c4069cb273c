/**
 * Which rule set is in force on a day. A book adopts sets from dates, and a game is computed under the one in force on the day
 * it was played, whenever it is entered; so a change of rules never rewrites what was played before it. Games before the first
 * adoption use the first. An adopted set this version does not have is passed over and named in the state: the club then sees
 * that this device needs a newer version.
 *
 * SPEC: RP.
 */

import type { CompiledRules } from "../exchange/compiled-rules.ts";
import { compileRules } from "../exchange/compiled-rules.ts";
import { byAuthorLastFirst } from "../ledger/chain.ts";
import type { EntryOf } from "../ledger/entry.ts";
import type { Day } from "../ledger/kinds.ts";
import { byCodeUnits } from "../order.ts";
import type { RuleSet } from "../rules/rule-set.ts";

export interface Adoption {
  readonly from: Day;
  readonly rules: CompiledRules;
}

/** At least one adoption, ascending by date. */
export type Adoptions = readonly [Adoption, ...Adoption[]];

export interface Adopted {
  /** Null while nothing this version knows was adopted. */
  readonly adoptions: Adoptions | null;
  readonly named: readonly { readonly rules: string; readonly from: Day }[];
  readonly unknown: readonly string[];
}

export function settleAdoptions(
  entries: readonly EntryOf<"rules-adopted">[],
  find: (id: string) => RuleSet | undefined,
): Adopted {
  const named: { rules: string; from: Day }[] = [];
  for (const { body } of [...entries].sort(byDateThenAuthor)) {
    // Of several adoptions for one day an author's last holds, and among authors the lowest key's.
    if (named.at(-1)?.from !== body.from) named.push({ rules: body.rules, from: body.from });
  }
  const known: Adoption[] = [];
  const unknown: string[] = [];
  for (const { rules, from } of named) {
    const set = find(rules);
    if (set === undefined) unknown.push(rules);
    else known.push({ from, rules: compileRules(set) });
  }
  const [first, ...rest] = known;
  return { adoptions: first === undefined ? null : [first, ...rest], named, unknown };
}

export function rulesOn(adoptions: Adoptions, day: Day): CompiledRules {
  let found = adoptions[0];
  if (adoptions.length === 1) return found.rules;
  for (const adoption of adoptions) if (adoption.from <= day) found = adoption;
  return found.rules;
}

const byDateThenAuthor = (a: EntryOf<"rules-adopted">, b: EntryOf<"rules-adopted">): number =>
  byCodeUnits(a.body.from, b.body.from) || byAuthorLastFirst(a, b);
