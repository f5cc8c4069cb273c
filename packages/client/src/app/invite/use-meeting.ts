/** The meeting room of an invitation while a screen is open. */
import { useEffect, useState } from "preact/hooks";
import { systemRandom } from "../../desk/platform.ts";
import type { Invitation } from "../../invite/invitation.ts";
import { keysKept } from "../../invite/invitation.ts";
import type { Meeting } from "../../invite/meeting.ts";
import { openMeeting } from "../../invite/meeting.ts";
import type { Connection } from "../../wire/connection.ts";
import { relayHere } from "../desk-store.ts";

export interface MeetingHere {
  readonly texts: readonly string[];
  readonly connection: Connection;
  readonly allStored: boolean;
}

const away: MeetingHere = { texts: [], connection: { type: "offline" }, allStored: false };

/**
 * Says these texts in the room and hears what lies in it. `open` false: stays away. Neither `invitation` nor `seal` may change while the
 * component stands.
 */
export function useMeeting(
  invitation: Invitation,
  seal: CryptoKey,
  toSay: readonly string[],
  open: boolean,
): MeetingHere {
  const [meeting, setMeeting] = useState<Meeting | null>(null);
  const [here, setHere] = useState(away);
  useEffect(() => {
    if (!open) return;
    let left = false;
    let opened: Meeting | null = null;
    const meet = async (): Promise<void> => {
      const keys = await keysKept(invitation, seal);
      if (left) return;
      const made = openMeeting(keys, { relay: relayHere(), randomBytes: systemRandom });
      opened = made;
      made.subscribe(() => {
        if (!left) setHere({ texts: made.texts(), connection: made.connection(), allStored: made.allStored() });
      });
      setMeeting(made);
    };
    void meet();
    return () => {
      left = true;
      setMeeting(null);
      setHere(away);
      void opened?.close();
    };
  }, [open]);
  useEffect(() => {
    if (meeting !== null) for (const text of toSay) meeting.say(text);
  }, [meeting, toSay.join(" ")]);
  return here;
}
