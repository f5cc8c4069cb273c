/** What saving would do to the cards of our members, before it is saved. */
import type { PlayerId } from "@sward/core";
import { Notice } from "../parts/notice.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { effectSentences, entryWords } from "../words/entry.ts";
import type { Preview } from "./preview.ts";

export interface EffectPanelProps {
  /** Null while the form cannot be saved. */
  readonly preview: Preview | null;
  readonly date: string;
  readonly nameOf: (player: PlayerId) => string;
}

export function EffectPanel({ preview, date, nameOf }: EffectPanelProps) {
  return (
    <section class="effect" aria-label={entryWords.effect} aria-live="polite">
      <h2>{entryWords.effect}</h2>
      {preview === null && <p class="quiet">{entryWords.effectNotYet}</p>}
      {preview?.standstill != null && <Notice tone="warn" title={entryWords.standstill[preview.standstill]} />}
      {preview !== null && preview.standstill === null && preview.effects.length === 0 && (
        <p class="quiet">{entryWords.effectNobody}</p>
      )}
      {preview !== null && preview.effects.length > 0 && (
        <dl>
          {preview.effects.map((effect) => (
            <div key={effect.player}>
              <dt>{nameOf(effect.player)}</dt>
              <dd>
                {effectSentences(effect, date).map((sentence) => (
                  <p key={sentence}>{sentence}</p>
                ))}
              </dd>
            </div>
          ))}
        </dl>
      )}
      <Prevail />
    </section>
  );
}
