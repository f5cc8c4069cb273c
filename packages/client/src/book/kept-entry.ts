/**
 * An entry of the vault as an open book holds it. Its signed text is six times what the ledger needs of it and is asked for seldom (to
 * push, to export, to hand over), so it is not kept: a text has one form only (the core's SPEC LE2), and is made again from the entry,
 * which the ledger holds too, and the signature, which is kept here.
 *
 *     on arrival   entry (as it was read) + signature
 *     after that   entry (the ledger's own) + signature
 *
 * What this version does not understand is kept as it came, and so is the text of a vault's first form until the ledger has its entry.
 */
import type { Entry, EntryId, KnownEntry, Payload } from "@sward/core";
import { signingInput } from "@sward/core";
import type { HeldEntry, Place } from "./vault.ts";

export class KeptEntry implements HeldEntry {
  readonly id: EntryId;
  readonly understood: boolean;
  readonly place: Place | null;
  #entry: KnownEntry | null;
  /** The signature, or the whole text where there is no entry. */
  #text: string;

  private constructor(held: Pick<HeldEntry, "id" | "understood" | "place">, entry: KnownEntry | null, text: string) {
    this.id = held.id;
    this.understood = held.understood;
    this.place = held.place;
    this.#entry = entry;
    this.#text = text;
  }

  static ofText(held: HeldEntry): KeptEntry {
    return held instanceof KeptEntry ? held : new KeptEntry(held, null, held.jws);
  }

  /** @param entry what `decodeEntry` made of the text, so that the same text is made of it */
  static ofRead(entry: Entry, jws: string, place: Place | null): KeptEntry {
    const { id, understood } = entry;
    return entry.understood
      ? KeptEntry.ofEntry(entry, alone(signatureIn(jws)), place)
      : new KeptEntry({ id, understood, place }, null, jws);
  }

  static ofEntry(entry: KnownEntry, signature: string, place: Place | null): KeptEntry {
    return new KeptEntry({ id: entry.id, understood: true, place }, entry, signature);
  }

  get jws(): string {
    return this.#entry === null
      ? this.#text
      : `${signingInput(this.#entry.author, payloadOf(this.#entry))}.${this.#text}`;
  }

  /** Null while only its text is here. */
  get entry(): KnownEntry | null {
    return this.#entry;
  }

  get signature(): string {
    return this.#entry === null ? signatureIn(this.#text) : this.#text;
  }

  /** The ledger has it now: from here on its object is enough. */
  share(entry: Entry | undefined): void {
    if (!this.understood || entry?.understood !== true) return;
    if (this.#entry === null) this.#text = alone(this.signature);
    this.#entry = entry;
  }

  at(place: Place | null): KeptEntry {
    return new KeptEntry({ id: this.id, understood: this.understood, place }, this.#entry, this.#text);
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
