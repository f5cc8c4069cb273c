/** The form of a sentence about a fault: the tables that have them are `messages.ts` and the files it puts together. */
export interface Message {
  readonly what: string;
  readonly why: string;
  readonly todo: string;
}

/** A sentence for each fault of a union; one without does not compile. */
export type Messages<F extends { readonly type: string }> = {
  readonly [T in F["type"]]: (fault: Extract<F, { readonly type: T }>) => Message;
};
