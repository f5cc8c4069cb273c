/** The first screen: what needs attention, most pressing first. */
import "./attention.css";
import { useEffect, useRef, useState } from "preact/hooks";
import { onceDrawn } from "../../desk/once-drawn.ts";
import { showMoment } from "../dates.ts";
import { deviceName, lastMet, nameOf, officeHere, useDesk } from "../desk-store.ts";
import { lazyItem } from "../lazy.tsx";
import { Empty } from "../parts/empty.tsx";
import { Notice } from "../parts/notice.tsx";
import { Page } from "../parts/page.tsx";
import type { Kept } from "../parts/passed-over.ts";
import { passOver } from "../parts/passed-over.ts";
import { Prevail } from "../parts/prevail.tsx";
import { usePrinting } from "../parts/printing.ts";
import { mayHere } from "../permission.ts";
import { remembering } from "../remembering.ts";
import { isAtTop, isGoingBack } from "../scroll.ts";
import { attentionWords } from "../words/attention.ts";
import { changeWords } from "../words/changes.ts";
import { words } from "../words.ts";
import { CardMatterView, saidBeside } from "./card-matter.tsx";
import type { Drawn, FirstDrawn } from "./first-drawn.ts";
import { firstDrawn } from "./first-drawn.ts";
import type { FurtherMatter } from "./further.ts";
import { further } from "./further.ts";
import type { Group } from "./groups.ts";
import { countPressing } from "./groups.ts";
import { groupsHere } from "./groups-here.ts";
import type { Matter } from "./matters.ts";

/** All but the changes of handicap, for which the screen is opened most: fetched right after the first view. */
const DisputeView = lazyItem(() => import("./dispute-matter.tsx"), "DisputeView");
const OtherView = lazyItem(() => import("./other-matters.tsx"), "OtherView");
const RecordView = lazyItem(() => import("./record-matters.tsx"), "RecordView");
const RivalsView = lazyItem(() => import("./rivals-matter.tsx"), "RivalsView");
const NewcomerView = lazyItem(() => import("./newcomer-matter.tsx"), "NewcomerView");
const FoundersView = lazyItem(() => import("./founders-matter.tsx"), "FoundersView");
const IdleView = lazyItem(() => import("./idle-matter.tsx"), "IdleView");
const TroubleView = lazyItem(() => import("./trouble-matter.tsx"), "TroubleView");
const FurtherView = lazyItem(() => import("./further-matter.tsx"), "FurtherView");

const later = [
  DisputeView,
  OtherView,
  RecordView,
  RivalsView,
  NewcomerView,
  FoundersView,
  IdleView,
  TroubleView,
  FurtherView,
];

/** Whether all views are here, or cannot be fetched, which each then says of itself. */
let allCame = false;

/** Fetched while the record opens where the address names this screen, else when it is drawn. */
const fetchViews = (): Promise<void> =>
  Promise.allSettled(later.map((view) => view.fetch())).then(() => {
    allCame = true;
  });

export const AttentionScreen = Object.assign(Attention, { fetch: fetchViews, prepare: () => void groupsHere() });

function Attention() {
  const desk = useDesk();
  const groups = groupsHere();
  const [came, setCame] = useState(allCame);
  useEffect(() => {
    void fetchViews().then(() => setCame(true));
  }, []);
  // What would be pushed down by what comes is not shown before it: a button must not move from under a finger.
  const coming =
    came && further.value !== null
      ? -1
      : groups.findIndex(({ matters }) => matters.some(({ about }) => about !== "card"));
  const shown = coming === -1 ? groups : groups.slice(0, coming);
  const first = useFirst(shown);
  const met = words.lastMet(lastMet.value === null ? null : showMoment(lastMet.value));
  return (
    <Page title={attentionWords.title} lead={attentionWords.lead(countPressing(groups))}>
      {countPressing(groups) === 0 && (
        <Empty title={attentionWords.empty.title}>
          <p>{attentionWords.empty.body}</p>
          <p class="quiet">{attentionWords.empty.more}</p>
        </Empty>
      )}
      {!mayHere(desk.club, "card-signed") && groups.length > 0 && (
        <Notice tone="info" title={changeWords.here(words.office[officeHere.value])}>
          <p id="may-not-sign">{attentionWords.mayNotSign}</p>
        </Notice>
      )}
      {first.groups.map(({ group, drawn }) => (
        <GroupView key={group.name} group={group} drawn={drawn} />
      ))}
      {!first.isAll && <div class="below" />}
      {first.isAll && shown === groups && (
        <>
          <p class="quiet small attention-met">{met}</p>
          <Prevail />
        </>
      )}
    </Page>
  );
}

/** A phone draws so many screens of things to do before a finger would notice. */
const SCREENS_A_TASK = 3;

/** What is drawn of them now; the rest follows, a few screens at a time. */
function useFirst(groups: readonly Group[]): FirstDrawn {
  /** What has been drawn, or all there is. */
  const there = useRef<ReadonlySet<string> | "all">(isGoingBack() ? "all" : new Set<string>());
  const screens = useRef(1);
  const [times, again] = useState(0);
  const printing = usePrinting();
  const known = there.current;
  const nameOfOne = ({ name }: Group, matter: Matter | FurtherMatter): string => `${name} ${keyOf(matter)}`;
  const first = firstDrawn(
    groups,
    isAtTop() && !printing ? screens.current * innerHeight : Number.POSITIVE_INFINITY,
    (group, matter) => known === "all" || known.has(nameOfOne(group, matter)),
  );
  const { isAll } = first;
  if (isAll) {
    there.current = new Set(groups.flatMap((group) => group.matters.map((one) => nameOfOne(group, one))));
    screens.current = 1;
  }
  useEffect(() => {
    if (isAll) return;
    onceDrawn(() => {
      screens.current += SCREENS_A_TASK;
      again(times + 1);
    });
  }, [isAll, times]);
  return first;
}

interface GroupViewProps {
  readonly group: Group;
  readonly drawn: readonly Drawn[];
}

function GroupView({ group, drawn }: GroupViewProps) {
  const { name, matters } = group;
  const { title, lead } = "said" in group ? group.said : attentionWords.groups[group.name];
  return (
    <section aria-labelledby={`group-${name}`}>
      <h2 id={`group-${name}`}>
        {title} <span class="tab-count">{matters.length}</span>
      </h2>
      <p class="quiet">{lead}</p>
      <ul class="matters">{useDrawn(drawn)}</ul>
    </section>
  );
}

interface Read extends Drawn {
  /** Null of one that watches the record itself. */
  readonly said: string | null;
}

const areAlike = (a: Read, b: Read): boolean =>
  a.said !== null && a.said === b.said && a.matter === b.matter && a.most === b.most;

/** Matters that say what they said are passed over. */
function useDrawn(all: readonly Drawn[]) {
  const kept = useRef<ReadonlyMap<string, Kept<Read, ReturnType<typeof MatterView>>>>(new Map());
  const may = mayHere(useDesk().club, "card-signed");
  const [named, device] = [remembering(nameOf), remembering(deviceName)];
  const read = all.map(({ matter, most }): [string, Read] => {
    const said = matter.about === "card" ? `${may}\n${saidBeside(matter, named, device)}` : null;
    return [keyOf(matter), { matter, most, said }];
  });
  kept.current = passOver(kept.current, read, areAlike, (key, one) => <MatterView key={key} {...one} />);
  return [...kept.current.values()].map(({ element }) => element);
}

function MatterView({ matter, most, said }: Read) {
  switch (matter.about) {
    case "further":
      return <FurtherView matter={matter} />;
    case "unknown-rules":
    case "forked-device":
      return <RecordView matter={matter} />;
    case "disputed-match":
      return <DisputeView matter={matter} />;
    case "rival-corrections":
      return <RivalsView matter={matter} />;
    case "card":
      return <CardMatterView matter={matter} most={most} said={said} />;
    case "no-handicap":
    case "one-report":
      return <OtherView matter={matter} />;
    case "newcomer":
      return <NewcomerView matter={matter} />;
    case "founders":
      return <FoundersView matter={matter} />;
    case "idle-card":
      return <IdleView matter={matter} />;
    case "storage-trouble":
    case "may-not-write":
    case "relay-refuses":
    case "not-met":
      return <TroubleView matter={matter} />;
  }
}

function keyOf(matter: Matter | FurtherMatter): string {
  switch (matter.about) {
    case "further":
      return matter.key;
    case "unknown-rules":
      return `${matter.book} ${matter.rules}`;
    case "forked-device":
      return `${matter.book} ${matter.device}`;
    case "disputed-match":
      return `${matter.book} ${matter.match.key}`;
    case "one-report":
      return `${matter.book} ${matter.fixture} ${matter.ours}`;
    case "rival-corrections":
      return `${matter.book} ${matter.of}`;
    case "card":
    case "no-handicap":
    case "newcomer":
    case "idle-card":
      return `${matter.about} ${matter.player}`;
    case "storage-trouble":
    case "may-not-write":
    case "relay-refuses":
      return `${matter.about} ${matter.book}`;
    case "not-met":
    case "founders":
      return matter.about;
  }
}
