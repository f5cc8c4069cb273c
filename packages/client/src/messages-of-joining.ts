/** The part of the table of sentences that is about founding, recovering and joining a club. */
import type { AppendFault, TakeFault } from "./book/faults.ts";
import type { RootFault } from "./desk/act-as-root.ts";
import type { CopyFault } from "./desk/club-copy.ts";
import type { RecoverFault } from "./desk/recover.ts";
import type { CopyRecoverFault } from "./desk/recover-from-copy.ts";
import type { InviteFault } from "./invite/faults.ts";
import type { WordsFault } from "./keys/recovery.ts";
import type { Messages } from "./message.ts";

export type FaultOfJoining =
  | WordsFault
  | Exclude<RecoverFault | CopyRecoverFault | RootFault, AppendFault | TakeFault>
  | CopyFault
  | InviteFault;

const askAgain = "Ask the handicapper for a new invitation.";

export const messagesOfJoining: Messages<FaultOfJoining> = {
  "words-count": ({ given, wanted }) => ({
    what: given === 1 ? "There is 1 word." : `There are ${given} words.`,
    why: `A club's words are ${wanted}.`,
    todo: "Write all of them, in their order, with spaces between them.",
  }),
  "words-unknown": ({ at, word, close }) => ({
    what: `Word ${at}, “${word}”, is not one a club's words are made of.`,
    why: "All words come from one list of 2,048, so a slip of the pen shows.",
    todo:
      close.length === 0
        ? "Look at it again on the paper."
        : `Look at it again on the paper. It may be ${close.map((one) => `“${one}”`).join(" or ")}.`,
  }),
  "words-checksum": () => ({
    what: "These words do not belong together.",
    why: "Each is in the list, but the last one checks all the others, and it does not fit.",
    todo: "Compare them with the paper one by one, and in their order: most often two have changed places, or one was read as another.",
  }),
  "recover-no-relay": () => ({
    what: "The club's record could not be fetched.",
    why: "The words are right in themselves, but the relay that has the record does not answer.",
    todo: "Open this page at the address of the club's relay, with a signal, and try again. Nothing has changed.",
  }),
  "recover-nothing-there": () => ({
    what: "This relay has no record of a club with these words.",
    why: "They may be another club's, the club may use another relay, or this relay has lost its store.",
    todo: "If any device of the club still opens, let it meet this relay: it fills it again. Then try once more.",
  }),
  "recover-not-stored": () => ({
    what: "The club was found, but this device was not admitted yet.",
    why: "The relay stopped answering before it had stored the admission.",
    todo: "Try again with a better signal. Doing so twice does no harm.",
  }),
  "words-of-another-club": () => ({
    what: "These are another club's words.",
    why: "They are right in themselves, but the key they make is not this club's.",
    todo: "Look for the paper with this club's name on it. Nothing has changed.",
  }),
  "root-not-stored": () => ({
    what: "It was not carried out to the end.",
    why: "The relay stopped answering before it had stored everything the club's key wrote.",
    todo: "Try again with a better signal. Doing so twice does no harm.",
  }),
  "not-a-copy": () => ({
    what: "That file is not a copy of a club's record, or not all of one.",
    why: "It is something else, or was cut or changed on the way.",
    todo: "On a device that still opens the record, go to Sharing, save the copy again, and hand that file over whole.",
  }),
  "copy-newer": () => ({
    what: "That copy was made by a newer version of the app.",
    why: "This version does not know how to read it.",
    todo: "Reload this page with a signal for a newer app, then try again.",
  }),
  "copy-of-another-club": () => ({
    what: "That copy is not of the club these words belong to.",
    why: "The words are right in themselves, and are another club's; or the copy lacks how the record was opened.",
    todo: "See that paper and file are of the same club.",
  }),
  "not-an-invitation": () => ({
    what: "That is not an invitation, or not all of one.",
    why: "An e-mail program may have cut the link, or part of it was not copied.",
    todo: "Copy the whole link, or ask for it again.",
  }),
  "made-by-newer": () => ({
    what: "That was made by a newer version of the app.",
    why: "This version does not know how to read it.",
    todo: "Reload this page with a signal for a newer app, then try again.",
  }),
  "passphrase-needed": () => ({
    what: "This invitation needs a passphrase.",
    why: "The handicapper chose one and tells it to you another way than the link.",
    todo: "Write it and try again.",
  }),
  "passphrase-wrong": () => ({
    what: "That is not the passphrase.",
    why: "The invitation opens with another one. Capitals and spaces inside it matter.",
    todo: "Write it again, or ask the handicapper.",
  }),
  "invitation-expired": () => ({
    what: "This invitation has expired.",
    why: "Its time is over, so that a link found later lets nobody in.",
    todo: askAgain,
  }),
  "invitation-over": ({ why }) => ({
    what: why === "used" ? "This invitation has been used." : "This invitation was withdrawn.",
    why: why === "used" ? "It let in another device, and each lets in one only." : "The handicapper took it back.",
    todo: askAgain,
  }),
  "parcel-broken": () => ({
    what: "That could not be read.",
    why: "It is something else, or was cut or changed on the way.",
    todo: "Take it again from the other screen, whole.",
  }),
  "parcel-of-another-invitation": () => ({
    what: "That belongs to another invitation.",
    why: "What two devices say to each other opens only with the invitation they both have.",
    todo: "See that both screens are at the same invitation.",
  }),
  "parcel-unexpected": ({ wanted }) => ({
    what: wanted === "ask" ? "That is not a device asking." : "That is not the handicapper's answer.",
    why: "It belongs to this invitation, but to its other side.",
    todo: "Take it from the other device's screen.",
  }),
  "answer-for-another": () => ({
    what: "That answer is for another device.",
    why: "It was sealed to the device that asked, and this one did not.",
    todo: "Ask the handicapper to take this device's ask and answer it.",
  }),
};
