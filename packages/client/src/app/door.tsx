/** Which of this browser's devices is open: the list of them, and opening the one the address names. */
import { signal } from "@preact/signals";
import type { KeyId } from "@sward/core";
import { useEffect } from "preact/hooks";
import { useLocation } from "preact-iso";
import { closeDevice, desk, keptPass, lastKnown, openDevice, opening } from "./desk-store.ts";
import { becomeDevice, passes, readDevices } from "./devices-here.ts";
import { frontAt } from "./front.ts";
import { InTurn } from "./in-turn.tsx";
import { invitedBy, isInvitation } from "./invited.ts";
import { lazyPart } from "./lazy.tsx";
import { Page } from "./parts/page.tsx";
import type { KeptPass } from "./passes.ts";
import { passIn, shortId } from "./passes.ts";
import { baseOf, placeOf } from "./place.ts";
import { prepareScreen } from "./routes.ts";
import { ScreenHere } from "./shell.tsx";
import { words } from "./words.ts";

const DevicesHere = lazyPart(() => import("./devices-list.tsx"), "DevicesHere");
const NotOpenHere = lazyPart(() => import("./trouble/not-open.tsx"), "NotOpenHere");
const NotOpened = lazyPart(() => import("./trouble/not-opened.tsx"), "NotOpened");

const LastKnown = lazyPart(() => import("./last-known/last-known-screen.tsx"), "LastKnownScreen");

const addressBroken = signal(false);
/** Why this browser's passes could not be read: it gives no storage, or has lost it. */
const passesFault = signal<string | null>(null);

/** Takes a pass out of the address, keeps it, and makes the address that of its device. Before anything is drawn. */
export async function enterByAddress(): Promise<void> {
  // Keys cannot be used here, and what cannot be used had better not be kept.
  if (!isSecureContext) return;
  try {
    await readPasses();
  } catch (cause) {
    passesFault.value = "indexedDB" in window && indexedDB !== undefined ? String(cause) : "storage-absent";
  }
}

async function readPasses(): Promise<void> {
  const given = passIn(location.hash);
  if (given !== null) history.replaceState(null, "", location.pathname + location.search);
  if (given === "broken") addressBroken.value = true;
  else if (given !== null) {
    const kept = await becomeDevice(given);
    history.replaceState(null, "", `/d/${shortId(kept.device)}/`);
  }
  invitedBy(location);
  await readDevices();
  // An installed app begins at the front page; there the device used last is meant.
  const last = localStorage.getItem(LAST_USED);
  const known = passes.value?.some(({ device }) => device === last);
  if (
    last !== null &&
    known === true &&
    location.pathname === "/" &&
    matchMedia("(display-mode: standalone)").matches
  ) {
    history.replaceState(null, "", `/d/${shortId(last as KeyId)}/`);
  }
  // A pass typed or clicked into a page that is open already changes only the fragment, and loads nothing.
  addEventListener("hashchange", () => {
    if (passIn(location.hash) !== null || isInvitation(location.hash)) location.reload();
  });
}

const LAST_USED = "sward/last-used";

export function Door() {
  const { path, query } = useLocation();
  const base = baseOf(path);
  const kept = passes.value?.find(({ device }) => base === `/d/${shortId(device)}`) ?? null;
  useEffect(() => {
    if (!isSecureContext) return;
    if (kept === null) void closeDevice();
    else if (keptPass.value?.device !== kept.device) {
      localStorage.setItem(LAST_USED, kept.device);
      void openDevice(kept);
    }
  }, [kept]);

  if (!isSecureContext) {
    return (
      <Page title={words.notSecure.title}>
        <p>{words.notSecure.body}</p>
      </Page>
    );
  }
  if (passesFault.value !== null) return <NotOpened cause={passesFault.value} />;
  if (passes.value === null) return <p>{words.loading}</p>;
  const Front = frontAt(path);
  if (Front !== null) return <Front params={{}} query={query} />;
  if (kept === null) return <DevicesHere kept={passes.value} wanted={base !== null} broken={addressBroken.value} />;
  if (desk.value === null) return <NotOpen kept={kept} />;
  return (
    <InTurn key={kept.device} part="screen" prepare={() => prepareScreen(placeOf(path))} before={<Loading />}>
      <ScreenHere />
    </InTurn>
  );
}

function NotOpen({ kept }: { readonly kept: KeptPass }) {
  const state = opening.value;
  switch (state.type) {
    case "none":
    case "opening":
    case "open":
      return <Loading />;
    default:
      return <NotOpenHere kept={kept} />;
  }
}

const Loading = () =>
  lastKnown.value !== null ? (
    <LastKnown />
  ) : (
    <p role="status">
      <label>
        {words.loading} <progress />
      </label>
    </p>
  );
