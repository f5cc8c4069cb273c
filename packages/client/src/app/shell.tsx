/**
 * What is round every screen: the club, the connection, the tabs; and what stands in a screen's place while there is none to show
 * (opening, open elsewhere, on its way, failed).
 */
import { untracked } from "@preact/signals";
import type { ComponentChildren } from "preact";
import { useErrorBoundary } from "preact/hooks";
import { useLocation } from "preact-iso";
import { further, reminders } from "./attention/further.ts";
import { countPressing } from "./attention/groups.ts";
import { groupsHere } from "./attention/groups-here.ts";
import { checks, desk, drawnVersion, helperLost, keptPass, lastKnown, putBack, useDesk } from "./desk-store.ts";
import { InTurn } from "./in-turn.tsx";
import { lazyPart } from "./lazy.tsx";
import { loadNewVersion, waitingVersion } from "./new-version.ts";
import { Button } from "./parts/button.tsx";
import { ConnectionBadge } from "./parts/connection-badge.tsx";
import { Notice } from "./parts/notice.tsx";
import { Page } from "./parts/page.tsx";
import { SavedBar } from "./parts/saved-bar.tsx";
import type { TabName } from "./parts/tab-icon.tsx";
import { TabIcon } from "./parts/tab-icon.tsx";
import { placeOf, places, useHref } from "./place.ts";
import { screenAt } from "./routes.ts";
import { FindButton, Over } from "./search/find-button.tsx";
import { words } from "./words.ts";

const TroubleNotice = lazyPart(() => import("./trouble/trouble-notice.tsx"), "TroubleNotice");

const tabs: readonly TabName[] = ["attention", "members", "entry", "league", "strokes", "sharing"];

export const Shell = ({ children }: { readonly children: ComponentChildren }) => (
  <div class="shell">
    <a class="skip" href="#sheet">
      {words.nav.skip}
    </a>
    <header class="band">
      <div class="band-inner">
        <ClubName />
        {desk.value !== null && (
          <div class="band-tools">
            <FindButton />
            <Connected />
          </div>
        )}
      </div>
    </header>
    <div class="foot">
      <SavedBar />
      {(desk.value ?? lastKnown.value) !== null && <Tabs />}
    </div>
    {desk.value !== null && <Over />}
    <main class="sheet" id="sheet">
      <NewVersion />
      {children}
    </main>
  </div>
);

function ClubName() {
  const open = desk.value;
  const name = open === null ? (lastKnown.value?.name ?? "") : useDesk().club.state().name;
  return (
    <p class="club">
      {name === "" ? words.appName : name}{" "}
      {keptPass.value !== null && (
        <span class="club-device">
          <a href="/" title={words.nav.devices}>
            {keptPass.value.pass.label}
          </a>
        </span>
      )}
    </p>
  );
}

function Connected() {
  const href = useHref();
  return <ConnectionBadge href={href(places.sharing)} />;
}

function Tabs() {
  const href = useHref();
  const here = placeOf(useLocation().path).split("/")[0] ?? "";
  return (
    <nav class="nav" aria-label={words.nav.label}>
      <ul class="tabs">
        {tabs.map((name) => (
          <li key={name} class={`tab-${name}`}>
            <a class="tab" href={href(places[name])} aria-current={here === places[name] ? "page" : undefined}>
              <TabIcon name={name} />
              <span>{words.nav[name]}</span>
              {name === "attention" && desk.value !== null && (
                <InTurn part="number">
                  <Pressing />
                </InTurn>
              )}
            </a>
          </li>
        ))}
      </ul>
    </nav>
  );
}

/** Counted when a screen that changed has been drawn: to look through all cards for it would keep the screen waiting. */
function Pressing() {
  drawnVersion.value;
  further.value;
  reminders.value;
  const pressing = countPressing(untracked(groupsHere));
  if (pressing === 0) return null;
  return (
    <span class="tab-count">
      {pressing}
      <span class="unseen"> {words.nav.toDo}</span>
    </span>
  );
}

function NewVersion() {
  if (waitingVersion.value === null) return null;
  return (
    <div class="no-print">
      <Notice tone="info" title={words.update.title} live>
        <p>{words.update.body}</p>
        <Button onClick={loadNewVersion}>{words.update.load}</Button>
      </Notice>
    </div>
  );
}

/** The screen at the address, once the desk is open. */
export function ScreenHere() {
  const { path, query } = useLocation();
  const place = placeOf(path);
  const found = screenAt(place);
  if (found === null) return <NotFound />;
  const { screen: Screen, params } = found;
  return (
    <>
      {/* The first screen has both among its things to do, but for what is over. */}
      {(place !== places.attention || putBack.value || helperLost.value !== null) && <Trouble />}
      {place !== places.attention && <Behind />}
      <Progress />
      {useDesk().club.state().as === null ? (
        <Page title={words.waitingForRecord.title}>
          <p>{words.waitingForRecord.body}</p>
        </Page>
      ) : (
        <Guarded key={place}>
          <Screen params={params} query={query} />
        </Guarded>
      )}
    </>
  );
}

function Guarded({ children }: { readonly children: ComponentChildren }) {
  const [error] = useErrorBoundary();
  if (error === undefined) return <>{children}</>;
  return (
    <Page title={words.crashed.title}>
      <p>{words.crashed.body}</p>
      <pre class="scroll-x small">{String(error)}</pre>
      <Button onClick={() => location.reload()}>{words.failed.reload}</Button>
    </Page>
  );
}

function Trouble() {
  const { club, leagues } = useDesk();
  const isTroubled =
    putBack.value || helperLost.value !== null || [club, ...leagues].some((book) => book.trouble() !== null);
  return isTroubled ? <TroubleNotice /> : null;
}

/** Nothing can be saved yet, and it is better said before the form is filled in. */
function Behind() {
  const { club, leagues } = useDesk();
  if (club.state().as === null || [club, ...leagues].every((book) => book.caughtUp())) return null;
  return (
    <Notice tone="info" title={words.behind.title}>
      <p>{words.behind.body}</p>
    </Notice>
  );
}

function Progress() {
  const open = useDesk();
  checks.value;
  const progress = [open.club, ...open.leagues].map((book) => book.progress()).find((one) => one !== null);
  if (progress === undefined || progress === null) return null;
  const { checked, total } = progress;
  return (
    <Notice tone="info" title={words.checking(checked, total)}>
      <progress max={total} value={checked}>
        {words.checking(checked, total)}
      </progress>
    </Notice>
  );
}

function NotFound() {
  const href = useHref();
  return (
    <Page title={words.notFound.title}>
      <p>{words.notFound.body}</p>
      <p>
        <a href={href(places.attention)}>{words.notFound.back}</a>
      </p>
    </Page>
  );
}
