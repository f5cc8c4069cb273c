/**
 * An invitation comes in the fragment of an address. It is taken out of it at once, and remembered for this tab until it has been made use
 * of, so that reloading the page loses nothing.
 */
const INVITED = "sward/invited";

export const isInvitation = (fragment: string): boolean => fragment.startsWith("#invite=");

/** Takes an invitation out of the address, and goes to where one joins. */
export function invitedBy({ hash }: Location): void {
  if (!isInvitation(hash)) return;
  sessionStorage.setItem(INVITED, hash);
  history.replaceState(null, "", "/join");
}

/** What stood in the address, for the screen that reads it; null when nothing did. */
export const invitedHere = (): string | null => sessionStorage.getItem(INVITED);

export const forgetInvited = (): void => sessionStorage.removeItem(INVITED);
