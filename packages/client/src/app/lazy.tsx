/**
 * A screen, or a part of one, whose script is fetched when it is first wanted, so that what a phone at the lawn waits for is the
 * first screen's script and not everybody's. What is fetched is kept: the second time it draws at once.
 *
 * - Nothing is said for 300 ms: on most machines the script is there sooner, and a sentence that flashes by is worse than none.
 * - A script that cannot be fetched is said in words, with a way to try again. It happens where there is neither a signal nor the
 *   service worker's copy, and in a page left open while another tab loaded a new version of the app, whose scripts have other
 *   names. Browsers may remember a script that failed, so trying again ends in loading the page anew, once that can succeed:
 *   never before, for a page that is closed without a signal may not come back.
 *
 * Rejected: the router's own `lazy`, which throws its promise to a boundary and has neither the delay nor the second try.
 */
import type { AnyComponent, ComponentChild } from "preact";
import { useEffect, useState } from "preact/hooks";
import { Button } from "./parts/button.tsx";
import { Notice } from "./parts/notice.tsx";
import { Page } from "./parts/page.tsx";
import type { ScreenProps } from "./screen-props.ts";
import { words } from "./words.ts";

export interface Lazy<Props> {
  (props: Props): ComponentChild;
  /** Fetches the script unless it is here or on its way; rejects when that fails, and may be called again. */
  fetch(): Promise<unknown>;
  /** Works out what it will show, so that drawing it finds that ready. */
  prepare(): void;
}

/** A component that can be prepared for; most need nothing. */
type Prepared<Props> = AnyComponent<Props> & { readonly prepare?: () => void };

export type Screen = AnyComponent<ScreenProps> | Lazy<ScreenProps>;

type Load<Name extends string, Props> = () => Promise<{ readonly [name in Name]: AnyComponent<Props> }>;

interface MissingProps {
  readonly cause: string;
  readonly again: () => void;
}

/** How long nothing is said, in milliseconds. */
const QUIET = 300;

/** All that were made so far; one that is fetched may make more. */
const everyLazy = new Set<{ fetch(): Promise<unknown> }>();

/** `lazyScreen(() => import("./members/members-screen.tsx"), "MembersScreen")` */
export const lazyScreen = <Name extends string>(load: Load<Name, ScreenProps>, name: Name): Lazy<ScreenProps> =>
  lazy(load, name, MissingScreen);

/** The same for a dialog or another part below a screen's heading. */
export const lazyPart = <Name extends string, Props extends object>(load: Load<Name, Props>, name: Name): Lazy<Props> =>
  lazy(load, name, MissingPart);

/** The same for what is drawn as an item of a list. */
export const lazyItem = <Name extends string, Props extends object>(load: Load<Name, Props>, name: Name): Lazy<Props> =>
  lazy(load, name, MissingItem, ComingItem);

/**
 * Fetches every script there is, one by one, whenever `idle` calls back: a phone that loses its signal a minute later has them all.
 * One that cannot be fetched is left for its screen to say.
 */
export async function fetchTheRest(idle: (run: () => void) => void): Promise<void> {
  for (const one of everyLazy) {
    await new Promise<void>(idle);
    await one.fetch().catch(() => undefined);
  }
}

function lazy<Name extends string, Props extends object>(
  load: Load<Name, Props>,
  name: Name,
  Missing: (props: MissingProps) => ComponentChild,
  Coming: () => ComponentChild = ComingPart,
): Lazy<Props> {
  let here: Prepared<Props> | null = null;
  let coming: Promise<void> | null = null;

  const fetchOnce = async (): Promise<void> => {
    try {
      here = (await load())[name];
    } catch (cause) {
      coming = null;
      throw cause;
    }
  };

  const fetch = (): Promise<void> => {
    coming ??= fetchOnce();
    return coming;
  };

  function LazyPart(props: Props) {
    const [failed, setFailed] = useState<string | null>(null);
    const [, setCame] = useState(here !== null);
    useEffect(() => {
      let left = false;
      // Also where it has come between the drawing and now: nothing else may make us look.
      fetch().then(
        () => left || setCame(true),
        (cause: unknown) => left || setFailed(String(cause)),
      );
      return () => {
        left = true;
      };
    }, []);

    if (here !== null) {
      const Here = here;
      return <Here {...props} />;
    }
    if (failed === null) return <Coming />;
    const again = async (): Promise<void> => {
      setFailed(null);
      try {
        await fetch();
        setCame(true);
      } catch (cause) {
        if (await appAnswers()) location.reload();
        else setFailed(String(cause));
      }
    };
    return <Missing cause={failed} again={() => void again()} />;
  }

  const made = Object.assign(LazyPart, { fetch, prepare: () => here?.prepare?.() });
  everyLazy.add(made);
  return made;
}

/** Whether a page loaded anew would come up, from the network or from the service worker's copy. */
const appAnswers = (): Promise<boolean> =>
  globalThis.fetch("/", { cache: "no-store" }).then(
    ({ ok }) => ok,
    () => false,
  );

function ComingPart() {
  const [said, setSaid] = useState(false);
  useEffect(() => {
    const timer = setTimeout(() => setSaid(true), QUIET);
    return () => clearTimeout(timer);
  }, []);
  return (
    <p class="coming" role="status">
      {said ? words.screenComing : ""}
    </p>
  );
}

const ComingItem = () => (
  <li>
    <ComingPart />
  </li>
);

const MissingScreen = (props: MissingProps) => (
  <Page title={words.screenMissing.title}>
    <Missing {...props} />
  </Page>
);

const MissingPart = (props: MissingProps) => (
  <Notice tone="bad" title={words.screenMissing.title}>
    <Missing {...props} />
  </Notice>
);

const MissingItem = (props: MissingProps) => (
  <li>
    <MissingPart {...props} />
  </li>
);

const Missing = ({ cause, again }: MissingProps) => (
  <>
    <p role="alert">{words.screenMissing.body}</p>
    <p class="small quiet">{cause}</p>
    <Button look="main" onClick={again}>
      {words.screenMissing.again}
    </Button>
  </>
);
