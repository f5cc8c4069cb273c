/** The service worker: registered in a built app only, and what to do when a newer version of the app is waiting. */
import { signal } from "@preact/signals";

/** A worker that has been fetched and waits until the person agrees. */
export const waitingVersion = signal<ServiceWorker | null>(null);

/** How often a page that stays open asks whether there is a newer version: hourly, in milliseconds. */
const ASK_EVERY = 3_600_000;

/** Whether this page came out of the app that is kept in this browser. */
export const isAppKept = (): boolean => "serviceWorker" in navigator && navigator.serviceWorker.controller !== null;

export async function watchForNewVersion(): Promise<void> {
  if (!("serviceWorker" in navigator)) return;
  const registration = await navigator.serviceWorker.register("/sw.js");
  const look = (): void => {
    // Without a controller this is the first version, which takes over by itself.
    if (navigator.serviceWorker.controller !== null) waitingVersion.value = registration.waiting;
  };
  look();
  registration.addEventListener("updatefound", () => {
    registration.installing?.addEventListener("statechange", look);
  });
  setInterval(() => void registration.update().catch(() => undefined), ASK_EVERY);
}

/** Lets the waiting version take over and loads the page anew with it. */
export function loadNewVersion(): void {
  navigator.serviceWorker.addEventListener("controllerchange", () => location.reload(), { once: true });
  waitingVersion.value?.postMessage("activate");
}
