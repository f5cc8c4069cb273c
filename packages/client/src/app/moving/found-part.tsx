/** What a record says: whose club it is from, where the card stands, who signed it and how that is known. */
import type { SignerReport } from "../../record/signers.ts";
import type { VerifiedRecord } from "../../record/verify.ts";
import { movingWords } from "../words/moving.ts";

export function FoundPart({ record: { report } }: { readonly record: VerifiedRecord }) {
  const words = movingWords.found;
  const [card] = report.cards;
  const { role } = report.exporter;
  return (
    <section aria-labelledby="moving-found">
      <h2 id="moving-found">{words.title(report.name)}</h2>
      <p>
        <strong>{card === undefined ? words.noCard : words.card(card.handicap, card.index, card.lines.length)}</strong>
      </p>
      <p>
        {words.holds(report.entries)} {role === null ? words.byNobody(report.at) : words.by(report.at, role)}
      </p>
      <h3 id="moving-who">{words.who}</h3>
      <p class="quiet">{words.code(report.book)}</p>
      <ul class="moving-signers" aria-labelledby="moving-who">
        {report.signers.map((signer) => (
          <Signer key={signer.key} signer={signer} />
        ))}
      </ul>
    </section>
  );
}

function Signer({ signer: { key, role, barred, entries, counted, known } }: { readonly signer: SignerReport }) {
  const words = movingWords.found;
  const { columns } = words;
  const how =
    role === null
      ? words.nobody
      : known.length === 0
        ? words.root
        : known.map((one) => words.through(one.by, one.line));
  return (
    <li>
      <strong>{words.device(key)}</strong>, {words.role(role, barred)}
      <br />
      {columns.entries}: {entries}, {columns.counted.toLowerCase()}: {counted}.{" "}
      <span class="quiet">
        {columns.how}: {typeof how === "string" ? how : how.join("; ")}
      </span>
    </li>
  );
}
