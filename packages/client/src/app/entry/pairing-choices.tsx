/** The last pairings, each a key away: a digit in an empty name, or a tap. */
import type { PlayerId } from "@sward/core";
import { Button } from "../parts/button.tsx";
import { entryWords } from "../words/entry.ts";
import { words } from "../words.ts";
import type { Pairing } from "./lately.ts";

export interface PairingChoicesProps {
  readonly pairings: readonly Pairing[];
  readonly shortName: (player: PlayerId) => string;
  readonly onChoose: (pairing: Pairing) => void;
}

export function PairingChoices({ pairings, shortName, onChoose }: PairingChoicesProps) {
  if (pairings.length === 0) return null;
  return (
    <section class="pairings" aria-label={entryWords.pairings}>
      <h2>{entryWords.pairings}</h2>
      <div class="row">
        {pairings.map((pairing, at) => {
          const [one, two] = pairing.map((side) => words.pair(side.map(shortName))) as [string, string];
          return (
            <Button key={`${one}v${two}`} onClick={() => onChoose(pairing)}>
              {entryWords.pairing(at + 1, one, two)}
            </Button>
          );
        })}
      </div>
    </section>
  );
}
