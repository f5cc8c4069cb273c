/** The record itself: what makes something not count until it is settled. Seldom there, so fetched after the first view. */
import { deviceName } from "../desk-store.ts";
import { ButtonLink } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { attentionWords } from "../words/attention.ts";
import { recordWords } from "../words/attention-seldom.ts";
import { MatterBox } from "./matter.tsx";
import type { Matter } from "./matters.ts";

type Of<A extends Matter["about"]> = { readonly matter: Extract<Matter, { readonly about: A }> };

export const RecordView = ({ matter }: Of<"unknown-rules" | "forked-device">) =>
  matter.about === "unknown-rules" ? <UnknownRulesView matter={matter} /> : <ForkedView matter={matter} />;

function UnknownRulesView({ matter }: Of<"unknown-rules">) {
  const said = recordWords.unknownRules;
  return (
    <MatterBox title={said.title(matter.rules)}>
      <p>{said.body}</p>
      <p>{said.todo}</p>
    </MatterBox>
  );
}

function ForkedView({ matter }: Of<"forked-device">) {
  const href = useHref();
  const said = recordWords.forked;
  return (
    <MatterBox
      title={said.title(deviceName(matter.device))}
      actions={<ButtonLink href={href(places.sharing)}>{attentionWords.sharing}</ButtonLink>}
    >
      <p>{said.body}</p>
      <p>{said.todo}</p>
    </MatterBox>
  );
}
