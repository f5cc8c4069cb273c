/** What stands between the lines and the record, and the one button that saves them all. */
import { useMemo, useRef, useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { rosterRecordOf } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { filesWords } from "../words/files.ts";
import { importDrafts } from "./drafts.ts";
import type { Importing } from "./importing.ts";
import { isReady } from "./importing.ts";
import type { Standing } from "./judging.ts";
import { withAll } from "./keyed.ts";
import type { SavingDeps } from "./saving.ts";
import { isInParts, saveImport } from "./saving.ts";

export function SaveSection({ importing }: { readonly importing: Importing }) {
  const desk = useDesk();
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const [changed, setChanged] = useState(false);
  const [done, setDone] = useState(0);
  const [stopped, setStopped] = useState<{ readonly games: number; readonly of: number } | null>(null);
  const stop = useRef(false);
  const outcome = importing.outcome.value;
  // Once for what was worked out, and not at each step of the reading that is told.
  const toSave = useMemo(() => outcome && importDrafts(outcome.matches, outcome.people, outcome.titles), [outcome]);
  if (outcome === null || toSave === null) return null;
  const { counts, matches, lines } = outcome;
  const words = filesWords.save;
  const games = matches.reduce((sum, body) => sum + body.games.length, 0);
  const { drafts, joining } = toSave;
  const events = drafts.filter(({ kind }) => kind === "event-opened").length;
  const inParts = isInParts(drafts);
  const reading = importing.progress.value !== null;

  const leaveOut = (which: Standing): void => {
    const those = lines.filter(({ standing }) => standing === which).map(({ line }) => line);
    void importing.change({ leftOut: withAll(importing.choices.value.leftOut, those) });
  };
  const save = async (): Promise<void> => {
    setBusy(true);
    setRefused(null);
    setChanged(false);
    setStopped(null);
    setDone(0);
    stop.current = false;
    const deps = {
      club: desk.club,
      store: localStorage,
      today: desk.today(),
      recordOf: (about: Parameters<SavingDeps["recordOf"]>[0]) => rosterRecordOf(desk, about as never),
    };
    const answer = await saveImport(importing, deps, { told: setDone, stopped: () => stop.current });
    setBusy(false);
    setRefused(answer.type === "refused" ? answer.why : null);
    setChanged(answer.type === "changed");
    if (answer.type === "stopped") setStopped(answer);
    if (answer.type === "refused" && answer.games > 0) setStopped({ games: answer.games, of: games });
  };
  return (
    <section aria-labelledby="files-save" class="files-save">
      <h3 id="files-save">{words.title}</h3>
      {counts.faulty > 0 && (
        <Notice tone="bad" title={words.waitFaulty(counts.faulty)}>
          <Button onClick={() => leaveOut("faulty")}>{words.leaveOutFaulty(counts.faulty)}</Button>
        </Notice>
      )}
      {counts.differs > 0 && (
        <Notice tone="warn" title={words.waitDiffers(counts.differs)}>
          <Button onClick={() => leaveOut("differs")}>{words.leaveOutDiffering(counts.differs)}</Button>
        </Notice>
      )}
      {matches.length === 0 && counts.faulty === 0 && counts.differs === 0 && <p>{words.nothing}</p>}
      {changed && <Notice tone="warn" title={words.changed} live />}
      <Refused message={refused} />
      {stopped !== null && (
        <Notice tone="warn" title={words.stopped(stopped.games, stopped.of)} live>
          <p>{words.stoppedMeans}</p>
        </Notice>
      )}
      <p class="quiet">
        {inParts ? words.inParts : words.all}
        {words.alsoVisitors(joining.length)}
        {words.alsoEvents(events)}
      </p>
      <Button look="main" disabled={busy || reading || !isReady(outcome)} onClick={() => void save()}>
        {words.button(games)}
      </Button>
      {busy && !inParts && (
        <p role="status">
          <progress aria-label={words.busy(games)} /> {words.busy(games)}
        </p>
      )}
      {busy && inParts && (
        <div class="row">
          <progress aria-label={words.busy(games)} value={done} max={games} />
          <span role="status">{words.soFar(done, games)}</span>
          <Button
            onClick={() => {
              stop.current = true;
            }}
          >
            {words.stop}
          </Button>
        </div>
      )}
    </section>
  );
}
