/** Where the app begins. */
import { render } from "preact";
import { LocationProvider } from "preact-iso";
import "./tokens.css";
import "./base.css";
import "./shell.css";
import { Door, enterByAddress } from "./door.tsx";
import { watchForNewVersion } from "./new-version.ts";
import { placeOf } from "./place.ts";
import { fetchScreens } from "./routes.ts";
import { Shell } from "./shell.tsx";

const root = document.getElementById("app");
if (root === null) throw new Error("the page has no element to draw into");

/** Safari has no idle callback yet; a second after is as good. */
const whenIdle = (run: () => void): void => {
  if ("requestIdleCallback" in globalThis) requestIdleCallback(run);
  else setTimeout(run, 1000);
};

/** Not awaited where modules are: every other script waits for this one to end, and would fail with it. */
async function start(into: HTMLElement): Promise<void> {
  await enterByAddress();
  void fetchScreens(placeOf(location.pathname), whenIdle);
  render(
    <LocationProvider>
      <Shell>
        <Door />
      </Shell>
    </LocationProvider>,
    into,
  );
  // A browser that gives no service worker, as in some private windows, has the app all the same while there is a signal.
  if (import.meta.env.PROD) await watchForNewVersion().catch((cause: unknown) => console.warn(cause));
}

void start(root);
