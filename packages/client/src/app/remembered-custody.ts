/**
 * What the relay had when it was last met, over a restart. A book learns from the relay, each time anew, which entries are stored
 * there; opened without a signal it would have to call every entry "saved here, not yet at the relay", which nobody would believe
 * a second time. So the few that were not stored are noted whenever that is known, and read when it is not.
 *
 * A note, not the record: when it is lost, or does not fit, the book's own answer stands, which never says too much. So it is kept up
 * without a signal too: an entry saved offline is noted before the next start, which would otherwise count it among the stored.
 */
import type { EntryId } from "@sward/core";
import { later } from "@sward/core";
import * as z from "zod/mini";
import type { Book } from "../book/book.ts";

/** Where notes are kept, such as `localStorage`. */
export interface NoteStore {
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

export type CustodyBook = Pick<
  Book,
  "id" | "device" | "connection" | "custody" | "waiting" | "unstored" | "entries" | "held"
>;

/** More than this and no note is taken: an import made without a signal. */
const MOST_NOTED = 500;

const Note = later(() => z.object({ held: z.int(), unstored: z.array(z.string()) }));
type Note = z.infer<ReturnType<typeof Note>>;

export interface RememberedCustody {
  custody(id: EntryId): ReturnType<Book["custody"]>;
  waiting(): number;
  /** To be called after every change of the book. */
  note(): void;
}

export function rememberCustody(book: CustodyBook, store: NoteStore): RememberedCustody {
  const key = `sward/unstored/${book.device}/${book.id}`;
  const noted = readNote(store.getItem(key));
  const atOpening = book.held();
  let since: { readonly held: number; readonly ids: ReadonlySet<EntryId> } = { held: atOpening, ids: new Set() };
  let met = false;

  /** What came since the opening lies behind what was there then. */
  function cameSince(): ReadonlySet<EntryId> {
    const held = book.held();
    if (held === since.held) return since.ids;
    const ids = new Set<EntryId>();
    let place = 0;
    for (const { id } of book.entries()) {
      if (place >= atOpening) ids.add(id);
      place += 1;
    }
    since = { held, ids };
    return ids;
  }

  const hasMet = (): boolean => {
    const connection = book.connection();
    met ||= connection.type === "live" && connection.synced;
    return met;
  };
  /** Before the relay is met, what the note says of the entries that were there when it was written. */
  const answers = (): Note | null => (hasMet() ? null : noted);

  /** Something was saved after the note was written, and the page was gone before it could be noted: which one, nobody knows. */
  const outrun = noted !== null && noted.held !== atOpening;

  function write(held: number, unstored: readonly string[]): void {
    if (unstored.length > MOST_NOTED) store.removeItem(key);
    else store.setItem(key, JSON.stringify({ held, unstored }));
  }

  return {
    custody(id) {
      const note = answers();
      const own = book.custody(id);
      if (note === null || outrun || own === null || cameSince().has(id)) return own;
      return note.unstored.includes(id) ? "here" : "relay";
    },
    waiting() {
      const note = answers();
      if (note === null) return book.waiting();
      // What was saved after the note was written is not in it.
      return note.unstored.length + Math.max(0, book.held() - note.held);
    },
    note() {
      const live = hasMet();
      if (!live && (noted === null || outrun)) return;
      const before = (noted?.unstored ?? []).filter((id) => book.custody(id as EntryId) !== null);
      write(book.held(), live ? [...book.unstored()] : [...before, ...cameSince()]);
    },
  };
}

function readNote(text: string | null): Note | null {
  if (text === null) return null;
  try {
    const note = Note().safeParse(JSON.parse(text));
    return note.success ? note.data : null;
  } catch {
    return null;
  }
}
