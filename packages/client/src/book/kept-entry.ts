/**
 * An entry of the vault as an open book holds it. Its signed text is six times what the ledger needs of it and is asked for seldom (to
 * push, to export, to hand over), so it is not kept: a text has one form only (the core's SPEC LE2), and is made again from the entry,
 * which the ledger holds too, and the signature, which is kept here.
 *
 *     as it was read   entry + signature
 *     after that       entry (as the ledger holds it) + signature
 *
 * What this version does not understand is kept as it came, and so is the text of a vault's first form until the ledger has its entry.
 *
 * One is held for each entry of ten years, and whatever is an object of its own is carried about by the platform's collector each time
 * it runs, while a phone answers nobody. So a place is kept as numbers that need none, and the signatures of a record are one text
 * (`vault-record.ts`). Rejected: no object at all, only numbers in columns (all who go through the entries would need to be told of it).
 */
import type { Entry, EntryId, KnownEntry, Payload } from "@sward/core";
import { signingInput } from "@sward/core";
import type { HeldEntry, Place } from "./vault.ts";

/** Characters of a signature in a signed text: 64 bytes in base64url. */
export const SIGNATURE_LENGTH = 86;

/** In place of where it begins: the text is this signature alone, or it is the whole text and there is no entry yet. */
const ALONE = -1;
const WHOLE = -2;

/** Of an entry that lies in no document: a clock before all others. */
export const nowhere: Place = { client: 0, clock: -1 };

/** What an entry is known by before its text has been read. */
type Named = Pick<HeldEntry, "id" | "understood">;

export class KeptEntry implements HeldEntry {
  #entry: KnownEntry | Named;
  /** The signature, or a sheet of them; or the whole text. */
  #text: string;
  /** Where in the sheet it begins. */
  #at: number;
  /** Of the 32 bits of a client id all but two, which lie with the clock: a browser keeps 31 in a field without an object. */
  readonly #client: number;
  readonly #clock: number;
  readonly #volume: number;

  private constructor(entry: KnownEntry | Named, text: string, at: number, place: Place | null) {
    this.#entry = entry;
    this.#text = text;
    this.#at = at;
    const { client, clock, volume = 0 } = place ?? nowhere;
    this.#client = client >> 2;
    this.#clock = clock * 4 + (client & 3);
    this.#volume = volume;
  }

  static ofText(held: HeldEntry): KeptEntry {
    const { id, understood } = held;
    return held instanceof KeptEntry ? held : new KeptEntry({ id, understood }, held.jws, WHOLE, held.place);
  }

  /** @param entry what `decodeEntry` made of the text, or that in its small form, so that the same text is made of it */
  static ofRead(entry: Entry, jws: string, place: Place | null): KeptEntry {
    const { id, understood } = entry;
    return entry.understood
      ? KeptEntry.ofEntry(entry, alone(signatureIn(jws)), place)
      : new KeptEntry({ id, understood }, jws, WHOLE, place);
  }

  /** @param at where in a sheet of signatures this one begins, which is of `SIGNATURE_LENGTH`; without, there is no more than it */
  static ofEntry(entry: KnownEntry, signature: string, place: Place | null, at = ALONE): KeptEntry {
    return new KeptEntry(entry, signature, at, place);
  }

  get id(): EntryId {
    return this.#entry.id;
  }

  get understood(): boolean {
    return this.#entry.understood;
  }

  get isPlaced(): boolean {
    return this.#clock >= 0;
  }

  /** Put together when it is asked for; whoever goes through all entries asks for its parts. */
  get place(): Place | null {
    if (!this.isPlaced) return null;
    const { client, clock, volume } = this;
    return volume === 0 ? { client, clock } : { client, clock, volume };
  }

  /** Like the other two, of no meaning unless it is placed. */
  get client(): number {
    return ((this.#client << 2) | (this.#clock & 3)) >>> 0;
  }

  get clock(): number {
    return (this.#clock - (this.#clock & 3)) / 4;
  }

  get volume(): number {
    return this.#volume;
  }

  get jws(): string {
    const { entry } = this;
    return entry === null ? this.#text : `${signingInput(entry.author, payloadOf(entry))}.${this.signature}`;
  }

  /** Null while only its text is here. */
  get entry(): KnownEntry | null {
    return this.#at === WHOLE ? null : (this.#entry as KnownEntry);
  }

  get signature(): string {
    if (this.#at === WHOLE) return signatureIn(this.#text);
    return this.#at === ALONE ? this.#text : this.#text.slice(this.#at, this.#at + SIGNATURE_LENGTH);
  }

  /** The ledger holds it like this, or will: from here on that object is enough. */
  share(entry: Entry | undefined): void {
    if (!this.understood || entry?.understood !== true) return;
    if (this.#at === WHOLE) [this.#text, this.#at] = [alone(this.signature), ALONE];
    this.#entry = entry;
  }

  at(place: Place | null): KeptEntry {
    return new KeptEntry(this.#entry, this.#text, this.#at, place);
  }

  toJSON(): HeldEntry {
    const { id, jws, understood, place } = this;
    return { id, jws, understood, place };
  }
}

/** What its author signed. */
export const payloadOf = ({ book, seq, prev, at, kind, body }: KnownEntry): Payload => ({
  v: 1,
  book,
  seq,
  prev,
  at,
  kind,
  body: { ...body },
});

const signatureIn = (jws: string): string => jws.slice(jws.lastIndexOf(".") + 1);

/** A slice would keep the whole text behind it; what a parser reads stands alone. */
const alone = (slice: string): string => JSON.parse(`"${slice}"`) as string;
