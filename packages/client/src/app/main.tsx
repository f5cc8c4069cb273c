/** Where the app begins. */
// Before all that this file needs.
import "./dates-ahead.ts";
import { render } from "preact";
import { LocationProvider } from "preact-iso";
import "./tokens.css";
import "./base.css";
import "./shell.css";
import { Door, enterByAddress } from "./door.tsx";
import { isAppKept, watchForNewVersion } from "./new-version.ts";
import { baseOf, placeOf } from "./place.ts";
import { fetchScreens } from "./routes.ts";
import { Shell } from "./shell.tsx";
import { inTurn } from "./turns.ts";
import { whenRead } from "./when-read.ts";

const root = document.getElementById("app");
if (root === null) throw new Error("the page has no element to draw into");

/** Safari has no idle callback yet; a second after is as good. */
const idle = (run: () => void): void => {
  if ("requestIdleCallback" in globalThis) requestIdleCallback(run);
  else setTimeout(run, 1000);
};

let isHere: Promise<void> | null = null;

/** Not while a record is read: what waits for it, for the line and for the processor, is the screen somebody asked for. */
const whenIdle = (run: () => void): void => {
  if (baseOf(location.pathname) === null) {
    idle(run);
    return;
  }
  isHere ??= new Promise((come) => whenRead(() => inTurn("rest", come)));
  void isHere.then(() => idle(run));
};

/** Not awaited where modules are: every other script waits for this one to end, and would fail with it. */
async function start(into: HTMLElement): Promise<void> {
  await enterByAddress();
  // Each in a task of its own: to ask for a script takes a phone as long as to draw the frame, and to read the passes too.
  await new Promise<void>((come) => inTurn("screen", come));
  void fetchScreens(placeOf(location.pathname), whenIdle);
  await new Promise<void>((come) => inTurn("screen", come));
  // One of the file that every screen needs beside its own ("soon" in vite.config.ts): asked for at once and not when the other names it.
  void import("./parts/field.tsx").catch(() => undefined);
  await new Promise<void>((come) => inTurn("screen", come));
  render(
    <LocationProvider>
      <Shell>
        <Door />
      </Shell>
    </LocationProvider>,
    into,
  );
  // A browser that gives no service worker, as in some private windows, has the app all the same while there is a signal.
  const watch = (): void => void watchForNewVersion().catch((cause: unknown) => console.warn(cause));
  if (!import.meta.env.PROD) return;
  if (isAppKept() || baseOf(location.pathname) === null) watch();
  else whenRead(watch);
}

// Nor in the task in which all scripts of the first view ran for the first time: on a phone that is long enough.
inTurn("screen", () => void start(root));
