/**
 * A roster's document, whose script comes after the first view: names are shown from the vault's copy before anything has to travel. Who
 * writes meanwhile waits for it, since what is written must be later than what is stored, but not for ever; then it is put in when the
 * document is there. If the script cannot be fetched the roster goes on without, and it is tried again.
 */
import type { EpochKeys } from "../keys/book-keys.ts";
import type { BookOptions } from "./options.ts";
import type { RosterDoc, RosterDocEvents } from "./roster-doc.ts";

export interface LaterRosterDoc extends Pick<RosterDoc, "put" | "pause" | "resume" | "destroy"> {
  /** Once: fetches its script and puts in what is stored. */
  attach(): void;
  /** Null until it has what is stored. */
  doc(): RosterDoc | null;
  /** Resolves when it has what is stored, or could not be fetched yet, or has been waited for long enough. */
  read(): Promise<void>;
  /** Nothing is begun any more. */
  hangUp(): Promise<void>;
}

export interface LaterRosterDocDeps extends RosterDocEvents {
  readonly options: BookOptions;
  readonly epoch: EpochKeys;
  readonly inTurn: <T>(run: () => Promise<T>) => Promise<T>;
  /** In the roster's turn: it is here, with all that is stored and with what was written before. */
  readonly attached: (doc: RosterDoc, stored: Awaited<ReturnType<RosterDoc["attach"]>>) => Promise<void>;
}

const TRY_AGAIN_MS = 5_000;

/** How long a script that does not come keeps somebody from writing a name. */
const READ_WITHIN_MS = 5_000;

export function laterRosterDoc(deps: LaterRosterDocDeps): LaterRosterDoc {
  const { options, epoch, inTurn } = deps;
  let fetched: RosterDoc | null = null;
  let doc: RosterDoc | null = null;
  /** Written before it was there. */
  const early = new Map<string, Uint8Array>();
  let [paused, closed] = [false, false];
  let timer: unknown = null;

  async function attachInTurn(made: RosterDoc): Promise<void> {
    if (closed || doc !== null) return;
    const stored = await made.attach();
    doc = made;
    if (early.size > 0) doc.put(early);
    early.clear();
    await deps.attached(doc, stored);
    if (!paused) doc.resume();
  }

  /** Resolves also when it could not be; what cannot be stored is for the roster's turn to say. */
  async function fetchAndAttach(): Promise<void> {
    try {
      const { createRosterDoc } = await import("./roster-doc.ts");
      if (closed) return;
      fetched ??= createRosterDoc(options, epoch, deps);
    } catch {
      if (!closed) timer = options.relay?.deps.setTimeout(() => void fetchAndAttach(), TRY_AGAIN_MS);
      return;
    }
    const made = fetched;
    await inTurn(() => attachInTurn(made)).catch(() => undefined);
  }
  let attaching: Promise<void> = Promise.resolve();

  return {
    attach() {
      attaching = fetchAndAttach();
    },
    doc: () => doc,
    put(envelopes) {
      if (doc !== null) doc.put(envelopes);
      else for (const [key, envelope] of envelopes) early.set(key, envelope);
    },
    async read() {
      if (doc !== null) return;
      let late: ReturnType<typeof setTimeout> | undefined;
      const outOfPatience = new Promise((done) => {
        late = setTimeout(done, READ_WITHIN_MS);
      });
      await Promise.race([attaching, outOfPatience]);
      // Else a command that wrote a name would end five seconds later.
      clearTimeout(late);
    },
    pause() {
      paused = true;
      doc?.pause();
    },
    resume() {
      paused = false;
      doc?.resume();
    },
    async hangUp() {
      // What was written before it was there would else be the older of the two when what is stored is next read.
      if (early.size > 0) await attaching;
      closed = true;
      options.relay?.deps.clearTimeout(timer);
      await fetched?.hangUp();
    },
    destroy: () => fetched?.destroy(),
  };
}
