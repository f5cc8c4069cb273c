/** Who signed the card off, up to which day, and whether it is still what was signed. */
import type { Card } from "@sward/core";
import { showMoment } from "../dates.ts";
import { deviceName } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { cardWords } from "../words/card.ts";

export function Signatures({ card }: { readonly card: Card }) {
  const { signatures } = cardWords;
  return (
    <section class="no-print" aria-labelledby="card-signatures">
      <h2 id="card-signatures">{signatures.title}</h2>
      {card.signatures.length === 0 ? (
        <p>{signatures.none}</p>
      ) : (
        <ul class="card-signatures">
          {[...card.signatures].reverse().map(({ entry, by, at, upto, handicap, index, standing }) => (
            <li key={entry}>
              {signatures.line(deviceName(by), showMoment(at), upto, handicap, index)}{" "}
              <Badge tone={standing === "holds" ? "good" : "warn"}>{signatures[standing]}</Badge>
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}
