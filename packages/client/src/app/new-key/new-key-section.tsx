/** On a device whose key is in use in two places: what has happened, and the code under which its new key is asked for. */
import type { HaltFault } from "../../book/faults.ts";
import { useDesk } from "../desk-store.ts";
import { ShortCodeLine } from "../invite/short-code-line.tsx";
import { Notice } from "../parts/notice.tsx";
import { newKeyWords } from "../words/new-key.ts";
import { renewalLost, renewing } from "./renewing.ts";

type Why = Exclude<HaltFault["type"], "not-caught-up">;

export function NewKeySection() {
  const { club, leagues } = useDesk();
  const why = [club, ...leagues].map((book) => book.halted()?.type).find(isShared);
  const state = renewing.value;
  const lost = renewalLost.value;
  if (why === undefined) return null;
  return (
    <section aria-label={newKeyWords.title}>
      <Notice tone="bad" title={newKeyWords.title} live>
        <p>{newKeyWords.why[why]}</p>
        <p>{newKeyWords.stays}</p>
      </Notice>
      {state !== null && (
        <>
          <p>{newKeyWords.todo}</p>
          <ShortCodeLine code={state.code} />
          <p role="status">{state.sent ? newKeyWords.sent : newKeyWords.notSent}</p>
          <p>{newKeyWords.keepOpen}</p>
          <p class="quiet">
            {newKeyWords.noNetwork} {newKeyWords.noOther}
          </p>
        </>
      )}
      {lost !== null && (
        <Notice tone="bad" title={newKeyWords.notKept} live>
          <p class="small">{lost}</p>
        </Notice>
      )}
    </section>
  );
}

const isShared = (type: HaltFault["type"] | undefined): type is Why => type === "used-elsewhere" || type === "forked";
