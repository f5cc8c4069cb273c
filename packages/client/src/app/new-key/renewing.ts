/**
 * The new key of the device that is open here, from the moment the old one is seen in use elsewhere: made, kept, asked for, and taken as
 * soon as it is admitted, on whatever screen one is. Asking needs no decision of the person at the screen, since the old key cannot be
 * used again in any case; admitting does, of the handicapper.
 */
import { signal } from "@preact/signals";
import type { Desk } from "../../desk/desk.ts";
import { seedOf } from "../../desk/pass.ts";
import { systemRandom } from "../../desk/platform.ts";
import type { MeetingDeps } from "../../invite/meeting.ts";
import { openMeeting } from "../../invite/meeting.ts";
import type { OwnNewKey } from "../../invite/new-key.ts";
import { askForNewKey, becomeNewKey, epochNow, newKeyRoom } from "../../invite/new-key.ts";
import { shortCode } from "../../invite/short-code.ts";
import { createSigner } from "../../keys/signer.ts";
import { becomeDevice, readDevices } from "../devices-here.ts";
import { dropNewKey, keepNewKey, loadNewKey } from "../invite/kept.ts";
import type { KeptPass } from "../passes.ts";
import { dropPass, shortId } from "../passes.ts";
import { officeIn } from "../permission.ts";
import { saved } from "../saved.ts";
import { storageHere } from "../storage-here.ts";
import { newKeyWords } from "../words/new-key.ts";

export interface Renewing {
  readonly code: string;
  /** The ask lies at the relay. */
  readonly sent: boolean;
}

export interface OpenHere {
  readonly desk: Desk;
  readonly kept: KeptPass;
  readonly relay: MeetingDeps["relay"];
  /** Whether this desk is still the one that is open. */
  isOpen(): boolean;
}

/** Null where no new key is asked for. */
export const renewing = signal<Renewing | null>(null);
/** Why it could not be done. */
export const renewalLost = signal<string | null>(null);

let running: KeptPass | null = null;

/** Begins, unless it has begun for this device already. */
export function takeNewKey(here: OpenHere): void {
  if (running === here.kept) return;
  // Whoever was barred asks for no other key, and the club's own key has no other.
  const office = officeIn(here.desk.club);
  if (office === "barred" || office === "none" || office === "root") return;
  running = here.kept;
  renewalLost.value = null;
  run(here).catch((cause: unknown) => {
    running = null;
    renewalLost.value = String(cause);
  });
}

async function run({ kept, desk: open, relay, isOpen }: OpenHere): Promise<void> {
  const old = await createSigner(seedOf(kept.pass));
  const room = await newKeyRoom(open.club.id, epochNow(open.club));
  const before = await loadNewKey(kept.device);
  // An ask made under an earlier secret of the book lies in a room nobody looks into any more.
  const asked = before?.own.ask.invitation === room.id ? before : await begin(kept, room.id);
  const code = await shortCode({ from: old.key }, asked.own.ask);
  const meeting = openMeeting(room, { relay, randomBytes: systemRandom });
  meeting.say(asked.text);
  const stops = [meeting.subscribe(look), open.subscribe(look)];
  let taking = false;
  look();

  async function begin({ device, pass }: KeptPass, id: string): Promise<OwnNewKey> {
    const label = open.club.roster.get(device)?.device ?? pass.label;
    const fresh = await askForNewKey(old, { id }, label, systemRandom);
    await keepNewKey(device, fresh);
    return fresh;
  }

  function end(): void {
    for (const stop of stops) stop();
    void meeting.close();
    renewing.value = null;
    running = null;
  }

  function look(): void {
    if (taking) return;
    if (!isOpen()) {
      end();
      return;
    }
    const live = meeting.connection().type === "live";
    renewing.value = { code, sent: live && meeting.allStored() };
    if (!open.club.state().devices.has(asked.own.ask.device)) return;
    taking = true;
    take().catch((cause: unknown) => {
      taking = false;
      renewalLost.value = String(cause);
    });
  }

  async function take(): Promise<void> {
    const become = await becomeNewKey(asked, kept.pass.label, open, storageHere);
    if (!become.ok) throw new Error(become.fault.type);
    const { device } = await becomeDevice(become.value);
    await dropNewKey(kept.device);
    end();
    saved.value = { sentence: newKeyWords.done, undo: null };
    history.replaceState(null, "", `/d/${shortId(device)}/`);
    dispatchEvent(new PopStateEvent("popstate"));
    // The old key goes; what it wrote stays in this browser's storage, and is in the new device's too.
    await dropPass(kept.device);
    await readDevices();
  }
}
