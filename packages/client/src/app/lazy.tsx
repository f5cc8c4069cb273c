/**
 * A screen whose script is fetched when it is first wanted, so that what a phone at the lawn waits for is the first screen's script
 * and not everybody's. What is fetched is kept: the second visit draws at once.
 *
 * - Nothing is said for 300 ms: on most machines the script is there sooner, and a sentence that flashes by is worse than none.
 * - A script that cannot be fetched is said in words, with a way to try again. It happens where there is neither a signal nor the
 *   service worker's copy, and in a page left open while another tab loaded a new version of the app, whose scripts have other
 *   names: so the page can be loaded anew as well, which Firefox and Safari need anyway, for they remember a failed script.
 *
 * Rejected: the router's own `lazy`, which throws its promise to a boundary and has neither the delay nor the second try.
 */
import type { AnyComponent } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Button } from "./parts/button.tsx";
import { Page } from "./parts/page.tsx";
import type { ScreenProps } from "./screen-props.ts";
import { words } from "./words.ts";

export type Screen = AnyComponent<ScreenProps>;

export interface LazyScreen {
  (props: ScreenProps): preact.ComponentChild;
  /** Fetches the script unless it is here or on its way; rejects when that fails, and may be called again. */
  fetch(): Promise<Screen>;
}

/** How long nothing is said, in milliseconds. */
const QUIET = 300;

/** `lazyScreen(() => import("./members/members-screen.tsx"), "MembersScreen")` */
export function lazyScreen<Name extends string>(
  load: () => Promise<{ readonly [name in Name]: Screen }>,
  name: Name,
): LazyScreen {
  let here: Screen | null = null;
  let coming: Promise<Screen> | null = null;

  const fetchOnce = async (): Promise<Screen> => {
    try {
      here = (await load())[name];
      return here;
    } catch (cause) {
      coming = null;
      throw cause;
    }
  };

  const fetch = (): Promise<Screen> => {
    coming ??= fetchOnce();
    return coming;
  };

  function Lazy(props: ScreenProps) {
    const [attempt, setAttempt] = useState(0);
    const [settled, setSettled] = useState<"no" | "here" | { readonly cause: string }>(here === null ? "no" : "here");
    useEffect(() => {
      if (here !== null) return;
      let left = false;
      fetch().then(
        () => left || setSettled("here"),
        (cause: unknown) => left || setSettled({ cause: String(cause) }),
      );
      return () => {
        left = true;
      };
    }, [attempt]);

    if (here !== null) {
      const Here = here;
      return <Here {...props} />;
    }
    if (typeof settled === "string") return <Coming />;
    const again = (): void => {
      setSettled("no");
      setAttempt(attempt + 1);
    };
    return <Missing cause={settled.cause} again={again} />;
  }

  return Object.assign(Lazy, { fetch });
}

function Coming() {
  const [said, setSaid] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setSaid(true), QUIET);
    return () => clearTimeout(timer);
  }, []);
  return <p role="status">{said ? words.screenComing : ""}</p>;
}

const Missing = ({ cause, again }: { readonly cause: string; readonly again: () => void }) => (
  <Page title={words.screenMissing.title}>
    <p role="alert">{words.screenMissing.body}</p>
    <p class="small quiet">{cause}</p>
    <div class="row">
      <Button look="main" onClick={again}>
        {words.screenMissing.again}
      </Button>
      <Button onClick={() => location.reload()}>{words.failed.reload}</Button>
    </div>
  </Page>
);
