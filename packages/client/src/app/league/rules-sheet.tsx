/** A league's rules as they are read out: each in plain words, with where they come from. */
import type { LeagueRules } from "@sward/core";
import { rulesTold } from "../words/league-rules.ts";
import { rulesFormWords as said } from "../words/league-rules-form.ts";

export const RulesSheet = ({ rules }: { readonly rules: LeagueRules }) => (
  <div class="rules-sheet">
    <dl>
      {rulesTold(rules).map(({ about, lines }) => (
        <div key={about} class="rules-one">
          <dt>{about}</dt>
          {lines.map((line) => (
            <dd key={line}>{line}</dd>
          ))}
        </div>
      ))}
    </dl>
    {rules.sources.length > 0 && (
      <>
        <h3>{said.modelledOn}</h3>
        <ul>
          {rules.sources.map(({ title, url }) => (
            <li key={url}>
              <a href={url} rel="noreferrer" target="_blank">
                {title}
              </a>
            </li>
          ))}
        </ul>
        <p class="quiet small">{said.modelledHint}</p>
      </>
    )}
    {rules.gaps.length > 0 && (
      <>
        <h3>{said.gaps}</h3>
        <ul>
          {rules.gaps.map((gap) => (
            <li key={gap}>{gap}</li>
          ))}
        </ul>
      </>
    )}
  </div>
);
