/** What is asked when a club is started, and when one is recovered; and which two words are asked for again. Pure. */
import { foundWords } from "../words/found.ts";

export interface WhoForm {
  readonly you: string;
  readonly device: string;
}

export interface FoundForm extends WhoForm {
  readonly club: string;
  readonly rules: string;
}

export type Faults<Form> = { readonly [K in keyof Form]?: string };

export const tidy = (text: string): string => text.trim().replaceAll(/\s+/g, " ");

const missing = (text: string, words: string): string | undefined => (tidy(text) === "" ? words : undefined);

/** Null when all is well. */
export function whoFaults({ you, device }: WhoForm): Faults<WhoForm> | null {
  return someFault({ you: missing(you, foundWords.youMissing), device: missing(device, foundWords.deviceMissing) });
}

export function foundFaults(form: FoundForm, clubMissing: string): Faults<FoundForm> | null {
  return someFault({ club: missing(form.club, clubMissing), ...whoFaults(form) });
}

function someFault<Form>(faults: { readonly [K in keyof Form]?: string | undefined }): Faults<Form> | null {
  const found = Object.entries(faults).filter(([, fault]) => fault !== undefined);
  return found.length === 0 ? null : (Object.fromEntries(found) as Faults<Form>);
}

/** Two different places from 0, the earlier first, by chance. */
export function twoPlaces(count: number, randomBytes: (count: number) => Uint8Array): readonly [number, number] {
  const [one = 0, two = 0] = randomBytes(2);
  const first = one % count;
  const second = (first + 1 + (two % (count - 1))) % count;
  return first < second ? [first, second] : [second, first];
}
