/** Joining a club: the invitation is read, this device asks, and once it is admitted its record opens. */
import { useEffect, useState } from "preact/hooks";
import type { Invitation } from "../../invite/invitation.ts";
import { decodeInvitation, linkOf } from "../../invite/invitation.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { showMoment } from "../dates.ts";
import { forgetInvited, invitedHere } from "../invited.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import { Refused } from "../parts/refused.tsx";
import { inviteWords } from "../words/invite.ts";
import { words } from "../words.ts";
import { AskForm } from "./ask-form.tsx";
import type { KeptAsk } from "./kept.ts";
import { dropAsk, loadAsk } from "./kept.ts";
import { WaitingForAnswer } from "./waiting-for-answer.tsx";

type Stage =
  | { readonly at: "reading" }
  | { readonly at: "no-invitation"; readonly fault: Message | null }
  | { readonly at: "invited"; readonly invitation: Invitation }
  | { readonly at: "asked"; readonly kept: KeptAsk };

/** A new invitation in the address comes before an ask that was made earlier. */
async function stageHere(): Promise<Stage> {
  const given = invitedHere();
  if (given !== null) return read(given);
  const kept = await loadAsk();
  return kept === null ? { at: "no-invitation", fault: null } : { at: "asked", kept };
}

function read(given: string): Stage {
  const decoded = decodeInvitation(given);
  return decoded.ok
    ? { at: "invited", invitation: decoded.value }
    : { at: "no-invitation", fault: messageOf(decoded.fault) };
}

export function JoinScreen() {
  const [stage, setStage] = useState<Stage>({ at: "reading" });
  useEffect(() => {
    stageHere().then(setStage, () => setStage({ at: "no-invitation", fault: null }));
  }, []);
  const begin = (): void => {
    forgetInvited();
    setStage({ at: "no-invitation", fault: null });
    void dropAsk();
  };
  switch (stage.at) {
    case "reading":
      return <p role="status">{words.loading}</p>;
    case "no-invitation":
      return <NoInvitation fault={stage.fault} read={(given) => setStage(read(given))} />;
    case "invited":
      return (
        <Invited
          invitation={stage.invitation}
          begin={begin}
          asked={(kept) => {
            forgetInvited();
            setStage({ at: "asked", kept });
          }}
        />
      );
    case "asked":
      return <WaitingForAnswer kept={stage.kept} begin={begin} />;
  }
}

interface NoInvitationProps {
  readonly fault: Message | null;
  readonly read: (given: string) => void;
}

function NoInvitation({ fault, read: readIt }: NoInvitationProps) {
  const said = inviteWords.join;
  const [text, setText] = useState("");
  return (
    <Page title={said.title} lead={said.lead}>
      <form
        noValidate
        onSubmit={(event) => {
          event.preventDefault();
          readIt(text);
        }}
      >
        <Field label={said.link} hint={said.linkHint}>
          {(control) => (
            <textarea
              {...control}
              rows={3}
              spellcheck={false}
              value={text}
              onInput={(event) => setText(event.currentTarget.value)}
            />
          )}
        </Field>
        <Refused message={fault} />
        <Button look="main" type="submit">
          {said.read}
        </Button>
      </form>
    </Page>
  );
}

interface InvitedProps {
  readonly invitation: Invitation;
  readonly begin: () => void;
  readonly asked: (kept: KeptAsk) => void;
}

function Invited({ invitation, begin, asked }: InvitedProps) {
  const said = inviteWords.join;
  const until = new Date(invitation.until * 1000).toISOString();
  const expired = Date.now() / 1000 > invitation.until;
  const elsewhere = invitation.relay !== location.origin;
  return (
    <Page title={said.invited(invitation.club)} lead={said.until(showMoment(until))}>
      {expired && <Refused message={messageOf({ type: "invitation-expired", until })} />}
      {!expired && elsewhere && (
        <Notice tone="warn" title={said.elsewhere.title}>
          <p>{said.elsewhere.body(invitation.relay)}</p>
          <ButtonLink href={linkOf(invitation)}>{said.elsewhere.open}</ButtonLink>
        </Notice>
      )}
      {!expired && !elsewhere && <AskForm invitation={invitation} asked={asked} />}
      <Button look="quiet" onClick={begin}>
        {said.other}
      </Button>
    </Page>
  );
}
