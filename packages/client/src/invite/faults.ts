/** Why an invitation, an ask or an answer was not taken, as data; the sentences are in `messages-of-joining.ts`. */
export type InviteFault =
  /** Not an invitation, or not all of one. */
  | { readonly type: "not-an-invitation" }
  /** Something made by a later version of the app. */
  | { readonly type: "made-by-newer" }
  | { readonly type: "passphrase-needed" }
  | { readonly type: "passphrase-wrong" }
  /** Its time is over, by this device's clock. `until`: RFC 3339. */
  | { readonly type: "invitation-expired"; readonly until: string }
  /** It let another device in, or was withdrawn. */
  | { readonly type: "invitation-over"; readonly why: "used" | "withdrawn" }
  /** Text, file or code that is nothing of ours, or was changed on the way. */
  | { readonly type: "parcel-broken" }
  /** Sealed for another invitation. */
  | { readonly type: "parcel-of-another-invitation" }
  /** Of this invitation, but not what is waited for here. */
  | { readonly type: "parcel-unexpected"; readonly wanted: "ask" | "answer" }
  /** An answer to another device's ask. */
  | { readonly type: "answer-for-another" };
