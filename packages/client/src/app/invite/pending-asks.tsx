/** The devices that ask by one invitation, each with its code; admitting one is a dialog, refusing one a press. */
import type { Role } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import type { RosterRecord } from "../../book/roster.ts";
import type { Ask } from "../../invite/ask.ts";
import type { GivenInvitation } from "../../invite/host.ts";
import { admitAsk } from "../../invite/host.ts";
import { shortCode } from "../../invite/short-code.ts";
import type { Signer } from "../../keys/signer.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { inviteWords } from "../words/invite.ts";
import { AdmitDialog } from "./admit-dialog.tsx";
import { sharedCodes } from "./life.ts";
import { ShortCodeLine } from "./short-code-line.tsx";

export interface PendingAsksProps {
  readonly given: GivenInvitation;
  readonly asks: readonly Ask[];
  /** Texts of asks that came by hand. */
  readonly handed: readonly string[];
  readonly signer: Signer;
  readonly keep: (given: GivenInvitation) => Promise<void>;
  readonly refuse: (ask: Ask) => Promise<void>;
}

export function PendingAsks({ given, asks, handed, signer, keep, refuse }: PendingAsksProps) {
  const said = inviteWords.host;
  const desk = useDesk();
  const [codes, setCodes] = useState<ReadonlyMap<string, string>>(new Map());
  const [admitting, setAdmitting] = useState<Ask | null>(null);
  useEffect(() => {
    const all = asks.map(async (ask) => [ask.id, await shortCode(given.invitation, ask)] as const);
    void Promise.all(all).then((pairs) => setCodes(new Map(pairs)));
  }, [asks.map(({ id }) => id).join(" ")]);
  const admit = async (ask: Ask, role: Role, holder: RosterRecord): Promise<Message | null> => {
    const host = { club: desk.club, leagues: desk.leagues, signer, now: Math.floor(Date.now() / 1000) };
    const admission = { role, holder, byHand: handed.includes(ask.text) };
    const answer = await admitAsk(given, ask, admission, host);
    if (!answer.ok) return messageOf(answer.fault);
    await keep(answer.value.given);
    return null;
  };
  const shared = sharedCodes(codes.values());
  return (
    <div aria-live="polite">
      {asks.map((ask) => {
        const code = codes.get(ask.id);
        if (code === undefined) return null;
        return (
          <div key={ask.id} class="invite-ask">
            <h4>{said.asks(ask.label)}</h4>
            <ShortCodeLine code={code} />
            {shared.has(code) && <Notice tone="bad" title={said.twice} live />}
            <div class="row">
              <Button look="main" disabled={shared.has(code)} onClick={() => setAdmitting(ask)}>
                {said.admit}
              </Button>
              <Button onClick={() => void refuse(ask)}>{said.refuse}</Button>
            </div>
          </div>
        );
      })}
      {admitting !== null && (
        <AdmitDialog
          label={admitting.label}
          code={codes.get(admitting.id) ?? ""}
          admit={(role, holder) => admit(admitting, role, holder)}
          onClose={() => setAdmitting(null)}
        />
      )}
    </div>
  );
}
