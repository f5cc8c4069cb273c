/** In place of every screen while this device's record is not open here: it is open elsewhere, was taken over, or could not be opened. */
import { openDevice, opening } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Page } from "../parts/page.tsx";
import type { KeptPass } from "../passes.ts";
import { troubleWords } from "../words/trouble.ts";
import { NotOpened } from "./not-opened.tsx";

export function NotOpenHere({ kept }: { readonly kept: KeptPass }) {
  const state = opening.value;
  const { elsewhere, lost } = troubleWords;
  switch (state.type) {
    case "elsewhere":
      return (
        <Page title={elsewhere.title}>
          <p>{elsewhere.body}</p>
          <Button look="main" onClick={() => void openDevice(kept, true)}>
            {elsewhere.here}
          </Button>
        </Page>
      );
    case "lost":
      return (
        <Page title={lost[state.why].title}>
          <p>{lost[state.why].body}</p>
          <Button look="main" onClick={() => void openDevice(kept, true)}>
            {lost.again}
          </Button>
        </Page>
      );
    case "failed":
      return <NotOpened cause={state.cause} />;
    default:
      return null;
  }
}
