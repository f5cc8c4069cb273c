/** The code that people compare, large enough to be read from the next chair. */
import { useEffect, useState } from "preact/hooks";
import type { Ask } from "../../invite/ask.ts";
import type { Invitation } from "../../invite/invitation.ts";
import { shortCode } from "../../invite/short-code.ts";
import { inviteWords } from "../words/invite.ts";
import "./invite.css";

export function useShortCode(invitation: Invitation, ask: Ask): string {
  const [code, setCode] = useState("");
  useEffect(() => void shortCode(invitation, ask).then(setCode), [ask.id]);
  return code;
}

export const ShortCodeLine = ({ code }: { readonly code: string }) => (
  <dl class="invite-code">
    <dt>{inviteWords.code}</dt>
    <dd>
      <span class="invite-digits" aria-hidden="true">
        {code}
      </span>
      <span class="unseen">{inviteWords.codeSpoken(code)}</span>
    </dd>
  </dl>
);
