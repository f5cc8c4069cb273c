/** A plan for whoever receives extra strokes, for every length of game: folded away, since most only want the number. */
import type { RuleSet } from "@sward/core";
import { strokePlan } from "../lawn/stroke-plan.ts";
import { printWords } from "../words/print.ts";
import { strokesWords } from "../words/strokes.ts";
import type { StrokesForm } from "./pairing.ts";
import { answersFor, labelsFor } from "./pairing.ts";

export function Plans({ rules, form }: { readonly rules: RuleSet; readonly form: StrokesForm }) {
  const labels = labelsFor(form, strokesWords.labels);
  const { plan } = printWords;
  const answers = answersFor(rules, form).map(({ format, ways }) => {
    // In doubles a pair chooses who has the half: each receiver is planned for with every number it may come to.
    const seen = new Set<string>();
    const plans = (ways ?? []).flatMap((way) =>
      way.flatMap((side, at) =>
        side.flatMap((extra, seat) => {
          const key = `${at} ${seat} ${extra}`;
          if (extra === 0 || seen.has(key)) return [];
          seen.add(key);
          return [{ key, who: labels[at]?.[seat] ?? "", extra, ...strokePlan(extra, format) }];
        }),
      ),
    );
    return { format, plans };
  });
  if (answers.every(({ plans }) => plans.length === 0)) return null;
  return (
    <details class="strokes-plans">
      <summary>{plan.title}</summary>
      <p class="quiet">{plan.lead}</p>
      <ul>
        {answers.flatMap(({ format, plans }) =>
          plans.map(({ key, who, extra, type, hoops }) => (
            <li key={`${format} ${key}`}>
              <strong>{plan.plan(who, extra, format)}.</strong> {type !== "none" && plan[type]} {plan.hoops(hoops)}
            </li>
          )),
        )}
      </ul>
      <p>{plan.unused}</p>
    </details>
  );
}
