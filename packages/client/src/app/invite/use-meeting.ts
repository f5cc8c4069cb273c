/** A meeting room while a screen is open. */
import { useEffect, useState } from "preact/hooks";
import { systemRandom } from "../../desk/platform.ts";
import type { Invitation, InvitationKeys } from "../../invite/invitation.ts";
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

/** The room of an invitation. Neither `invitation` nor `seal` may change while the component stands. */
export const useMeeting = (
  invitation: Invitation,
  seal: CryptoKey,
  toSay: readonly string[],
  open: boolean,
): MeetingHere => useRoom(() => keysKept(invitation, seal), invitation.secret, toSay, open);

/** Says these texts in a room and hears what lies in it. `open` false: stays away. @param name another name is another room */
export function useRoom(
  keysOf: () => Promise<InvitationKeys>,
  name: string,
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
      const keys = await keysOf();
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
  }, [open, name]);
  useEffect(() => {
    if (meeting !== null) for (const text of toSay) meeting.say(text);
  }, [meeting, toSay.join(" ")]);
  return here;
}
