/** An invitation's link, to copy, and as a code for a phone's camera. */
import { useState } from "preact/hooks";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { inviteWords } from "../words/invite.ts";
import { QrCode } from "./qr-code.tsx";

export function LinkField({ link }: { readonly link: string }) {
  const said = inviteWords.host;
  const [told, setTold] = useState("");
  const copy = (): void => {
    navigator.clipboard.writeText(link).then(
      () => setTold(said.copied),
      () => setTold(said.notCopied),
    );
  };
  return (
    <>
      <Field label={said.link}>
        {(control) => (
          <input
            {...control}
            class="invite-text"
            readOnly
            value={link}
            onFocus={(event) => event.currentTarget.select()}
          />
        )}
      </Field>
      <div class="row">
        <Button onClick={copy}>{said.copy}</Button>
        <span role="status">{told}</span>
      </div>
      <details>
        <summary>{said.code}</summary>
        <QrCode text={link} label={said.codeLabel} />
      </details>
    </>
  );
}
