/** A device asks and is admitted, over a real relay and across the room with none. */
import type { Book, Pass } from "@sward/client";
import { createSigner, openBook, systemRandom } from "@sward/client";
import type { PlayerId } from "@sward/core";
import { base64url } from "jose";
import { afterEach, beforeEach, expect, test } from "vitest";
import { foundClub } from "../../../packages/client/src/desk/found.ts";
import { epochsOf, seedOf } from "../../../packages/client/src/desk/pass.ts";
import { settleDevice } from "../../../packages/client/src/desk/settle.ts";
import { openWelcome, passOfWelcome, readAnswer, recordOfWelcome } from "../../../packages/client/src/invite/answer.ts";
import type { OwnAsk } from "../../../packages/client/src/invite/ask.ts";
import { newAsk } from "../../../packages/client/src/invite/ask.ts";
import { standingOf } from "../../../packages/client/src/invite/guest.ts";
import type { GivenInvitation, HostDesk } from "../../../packages/client/src/invite/host.ts";
import { admitAsk, asksIn, refuseAsk, withdraw } from "../../../packages/client/src/invite/host.ts";
import { decodeInvitation, keysOf, linkOf, newInvitation } from "../../../packages/client/src/invite/invitation.ts";
import type { Meeting } from "../../../packages/client/src/invite/meeting.ts";
import { openMeeting } from "../../../packages/client/src/invite/meeting.ts";
import { openParcel, parcelOfText, sealParcel, textOfParcel } from "../../../packages/client/src/invite/parcels.ts";
import { openWire } from "../../../packages/client/src/wire/wire.ts";
import type { TestRelay } from "../../support/meeting.ts";
import { relayWith, wireDeps } from "../../support/meeting.ts";
import type { Storage } from "../../support/two-clubs.ts";
import { forgetful, until } from "../../support/two-clubs.ts";

const clock = { timestamp: () => "2026-08-20T10:00:00Z", today: () => "2026-08-20" };
const NOW = 1_786_000_000;
const holder = { name: "Bo Linnet", short: "Bo L." };
const recorder = { role: "recorder", holder, byHand: false } as const;
const player = base64url.encode(new Uint8Array(16).fill(3)) as PlayerId;

let relay: TestRelay;
let book: Book;
let host: HostDesk;
const toClose: { close(): Promise<void> }[] = [];

const wired = () => ({ url: relay.origin, open: openWire, deps: wireDeps });
const deps = () => ({ relay: wired(), randomBytes: systemRandom });

async function openPass(pass: Pass, met: boolean, storage: Storage = forgetful()): Promise<Book> {
  const opened = await openBook({
    book: pass.club.book,
    device: await createSigner(seedOf(pass)),
    epochs: epochsOf(pass.club),
    ...storage,
    relay: met ? wired() : null,
    clock,
    randomBytes: systemRandom,
    entriesPerBlock: 50,
  });
  toClose.push(opened);
  return opened;
}

beforeEach(async () => {
  relay = await relayWith();
  const storage = forgetful();
  const club = { name: "Larkfield", rules: "england-2016", from: "2026-01-01" };
  const first = { label: "laptop", holder: { name: "Ines Calder", short: "Ines C." } };
  const optionsFor = async (device: HostDesk["signer"], { book: id, epochs }: Pass["club"]) => ({
    book: id,
    device,
    epochs: epochsOf({ book: id, epochs }),
    ...storage,
    relay: null,
    clock,
    randomBytes: systemRandom,
    entriesPerBlock: 50,
  });
  const made = await foundClub(systemRandom(32), club, first, null, { clock, randomBytes: systemRandom, optionsFor });
  if (!made.ok) throw new Error(made.fault.type);
  const { pass } = made.value;
  book = await openPass(pass, true, storage);
  await book.append([{ kind: "player-joined", body: { player, standing: "member" } }]);
  await book.roster.write(new Map([[player, { name: "Ada Wren", short: "Ada W." }]]));
  host = { club: book, leagues: [], signer: await createSigner(seedOf(pass)), now: NOW };
});
afterEach(async () => {
  for (const one of toClose.splice(0)) await one.close();
  await relay.close();
});

async function invite(passphrase = "") {
  const terms = { relay: relay.origin, club: "Larkfield", from: host.signer.key, until: NOW + 3600 };
  const { invitation, keys } = await newInvitation(terms, passphrase, systemRandom);
  const given: GivenInvitation = { invitation, keys, state: "open", answers: [], answered: [], byHand: null };
  return { given, link: linkOf(invitation), keys };
}

/** A device with nothing but the link. */
async function ask(link: string, label: string, passphrase = "") {
  const invitation = decodeInvitation(link);
  if (!invitation.ok) throw new Error(invitation.fault.type);
  const keys = await keysOf(invitation.value, passphrase);
  if (!keys.ok) throw new Error(keys.fault.type);
  const own = await newAsk(keys.value.id, label, systemRandom);
  return { invitation: invitation.value, keys: keys.value, own };
}

function meet(keys: Parameters<typeof openMeeting>[0]): Meeting {
  const meeting = openMeeting(keys, deps());
  toClose.push(meeting);
  return meeting;
}

const hasAsk = async (meeting: Meeting, given: GivenInvitation, own: OwnAsk): Promise<void> => {
  await until("the ask has come", () => meeting.texts().includes(own.ask.text));
  expect((await asksIn(meeting.texts(), given)).map(({ id }) => id)).toContain(own.ask.id);
};

test("by link: the ask comes, the handicapper admits, the new device reads the record and writes in it", async () => {
  const { given, link, keys } = await invite("under the yew");
  const guest = await ask(link, "Bo's phone", "under the yew");
  const [there, here] = [meet(guest.keys), meet(keys)];
  there.say(guest.own.ask.text);
  await hasAsk(here, given, guest.own);
  const [asked] = await asksIn(here.texts(), given);
  const admitted = await admitAsk(given, asked as never, recorder, host);
  if (!admitted.ok) throw new Error(admitted.fault.type);
  expect(admitted.value.given).toMatchObject({ state: "used", answered: [guest.own.ask.id] });
  expect(await asksIn(here.texts(), admitted.value.given)).toEqual([]);
  here.say(admitted.value.answer);
  await until("the answer has come", () => there.texts().includes(admitted.value.answer));
  await until("it is stored", () => here.allStored());

  const standing = await standingOf(there.texts(), guest.invitation, guest.own);
  if (standing.type !== "welcome") throw new Error(standing.type);
  const joined = await openPass(passOfWelcome(standing.welcome, guest.own, "Larkfield"), true);
  await until("the record is here", () => joined.state().devices.get(joined.device)?.role === "recorder");
  await until("names are here", () => joined.roster.get(joined.device) !== undefined);
  expect(joined.roster.get(joined.device)).toEqual({ ...holder, device: "Bo's phone" });
  await until("it may write", () => joined.caughtUp());
  const visitor = base64url.encode(new Uint8Array(16).fill(4)) as PlayerId;
  expect((await joined.append([{ kind: "player-joined", body: { player: visitor, standing: "visitor" } }])).ok).toBe(
    true,
  );
  await until("it has come back", () => book.state().players.has(visitor));
});

test("usable once: a second device is told so, and admitting it is refused and writes nothing", async () => {
  const { given, link, keys } = await invite();
  const [first, second] = [await ask(link, "first"), await ask(link, "second")];
  const [here, there] = [meet(keys), meet(second.keys)];
  const admitted = await admitAsk(given, first.own.ask, recorder, host);
  if (!admitted.ok) throw new Error(admitted.fault.type);
  here.say(admitted.value.answer);
  there.say(second.own.ask.text);
  await until("the answer has come", () => there.texts().includes(admitted.value.answer));
  expect(await standingOf(there.texts(), second.invitation, second.own)).toEqual({ type: "over", why: "used" });
  const entries = book.state().entries;
  const again = await admitAsk(admitted.value.given, second.own.ask, recorder, host);
  expect(again).toEqual({ ok: false, fault: { type: "invitation-over", why: "used" } });
  expect(book.state().entries).toBe(entries);
});

test("expired, withdrawn, of another invitation, by a device that may not: refused, and nothing is written", async () => {
  const { given, link } = await invite();
  const { own } = await ask(link, "late");
  const entries = book.state().entries;
  expect(await admitAsk(given, own.ask, recorder, { ...host, now: NOW + 3601 })).toMatchObject({
    fault: { type: "invitation-expired", until: new Date((NOW + 3600) * 1000).toISOString() },
  });
  const gone = await withdraw(given, host.signer);
  expect(await admitAsk(gone, own.ask, recorder, host)).toMatchObject({
    fault: { type: "invitation-over", why: "withdrawn" },
  });
  expect(await standingOf(gone.answers, given.invitation, own)).toEqual({ type: "over", why: "withdrawn" });
  const other = await invite();
  expect(await admitAsk(other.given, own.ask, recorder, host)).toMatchObject({
    fault: { type: "parcel-of-another-invitation" },
  });
  expect(book.state().entries).toBe(entries);

  const admitted = await admitAsk(given, own.ask, { ...recorder, role: "reader" }, host);
  if (!admitted.ok) throw new Error(admitted.fault.type);
  await until("stored", () => book.waiting() === 0);
  const welcome = await readAnswer(admitted.value.answer, given.invitation, given.keys.id);
  if (!welcome.ok) throw new Error(welcome.fault.type);
  const opened = await openWelcome(welcome.value, own);
  if (!opened.ok) throw new Error(opened.fault.type);
  const reader = await openPass(passOfWelcome(opened.value, own, "Larkfield"), true);
  await until("admitted", () => reader.caughtUp() && reader.state().devices.has(reader.device));
  const theirs = { ...host, club: reader, signer: await createSigner(own.seed) };
  const next = await ask(other.link, "next");
  expect(await admitAsk(other.given, next.own.ask, recorder, theirs)).toMatchObject({ fault: { type: "may-not" } });
});

test("a refused device is told, and the invitation stays good for another", async () => {
  const { given, link } = await invite();
  const [no, yes] = [await ask(link, "no"), await ask(link, "yes")];
  const after = await refuseAsk(given, no.own.ask, host.signer);
  expect(await standingOf(after.answers, given.invitation, no.own)).toEqual({ type: "refused" });
  expect((await asksIn([no.own.ask.text, yes.own.ask.text], after)).map(({ label }) => label)).toEqual(["yes"]);
  expect((await admitAsk(after, yes.own.ask, recorder, host)).ok).toBe(true);
});

test("across the room with no network: ask and answer as text, and the new device has the record and may write", async () => {
  const { given, link, keys } = await invite();
  const guest = await ask(link, "Bo's phone");
  const carry = async (from: Parameters<typeof sealParcel>[0], to: typeof from, message: string): Promise<string> => {
    const parcel = parcelOfText(textOfParcel(await sealParcel(from, message, systemRandom)));
    const opened = parcel.ok ? await openParcel(to, parcel.value) : parcel;
    if (!opened.ok) throw new Error(opened.fault.type);
    return opened.value;
  };
  const asks = await asksIn([await carry(guest.keys, keys, guest.own.ask.text)], given);
  const admitted = await admitAsk(given, asks[0] as never, { ...recorder, byHand: true }, host);
  if (!admitted.ok) throw new Error(admitted.fault.type);
  const text = await carry(keys, guest.keys, admitted.value.given.byHand ?? "");
  const standing = await standingOf([text], guest.invitation, guest.own);
  if (standing.type !== "welcome") throw new Error(standing.type);
  const pass = passOfWelcome(standing.welcome, guest.own, "Larkfield");
  const storage = forgetful();
  const device = await createSigner(seedOf(pass));
  const settled = await settleDevice(pass, recordOfWelcome(standing.welcome) as never, async (_device, club) => ({
    book: club.book,
    device,
    epochs: epochsOf(club),
    ...storage,
    relay: null,
    clock,
    randomBytes: systemRandom,
    entriesPerBlock: 50,
  }));
  expect(settled).toEqual({ ok: true, value: null });
  // The relay is dialled and out of reach, as in a field; the device may write all the same.
  await relay.close();
  const joined = await openPass(pass, true, storage);
  expect(joined.state().name).toBe("Larkfield");
  expect(joined.roster.get(player)?.name).toBe("Ada Wren");
  const visitor = base64url.encode(new Uint8Array(16).fill(4)) as PlayerId;
  const saved = await joined.append([{ kind: "player-joined", body: { player: visitor, standing: "visitor" } }]);
  expect(saved.ok).toBe(true);
  expect(joined.state().players.has(visitor)).toBe(true);
});
