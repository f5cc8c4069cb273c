/** Where the app begins. */
import { render } from "preact";
import { LocationProvider } from "preact-iso";
import "./tokens.css";
import "./base.css";
import "./shell.css";
import { Door, enterByAddress } from "./door.tsx";
import { watchForNewVersion } from "./new-version.ts";
import { Shell } from "./shell.tsx";

const root = document.getElementById("app");
if (root === null) throw new Error("the page has no element to draw into");

await enterByAddress();
render(
  <LocationProvider>
    <Shell>
      <Door />
    </Shell>
  </LocationProvider>,
  root,
);
if (import.meta.env.PROD) await watchForNewVersion();
