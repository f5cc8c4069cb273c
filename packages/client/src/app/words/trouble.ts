/** What people read when this device's own storage fails, or its record is open elsewhere: fetched after the first view. */
import type { StorageTrouble } from "../../book/holdings.ts";
import type { StorageWhy } from "../trouble/storage-why.ts";

interface Told {
  readonly why: string;
  readonly todo: string;
}

export const troubleWords = {
  during: {
    append: "The last thing you saved was NOT saved",
    arrive: "What arrived could not be kept",
    roster: "Names could not be kept",
  } satisfies Readonly<Record<StorageTrouble["during"], string>>,
  why: {
    full: {
      why: "There is no room left for this app on this device.",
      todo: "Free some space (photographs and videos are the usual reason), then save again: what you typed is still there.",
    },
    absent: {
      why: "This browser gives the app no storage: it is a private window, or is set to keep nothing.",
      todo: "Open the app in an ordinary window, or allow this site to keep data in the browser's settings.",
    },
    blocked: {
      why: "Another tab of this browser has an older version of the app open and does not let go of the storage.",
      todo: "Close the other tabs of this app, then load this page again.",
    },
    silent: {
      why: "The browser's storage does not answer.",
      todo: "Close the browser altogether and open it again. If that does not help, start the device anew.",
    },
    other: {
      why: "The browser's storage on this device would not take it.",
      todo: "Save again: what you typed is still there. If it is refused again, free some space and load the page anew.",
    },
  } satisfies Readonly<Record<StorageWhy, Told>>,
  safe: "What was saved before is safe.",
  notOpened: "Nothing was lost or changed.",
  putBack: {
    title: "The browser threw this device's record away, and it has been put back",
    body: "Somebody cleared the site's data, or the browser was short of space. Nothing that was saved is lost: everything was still in this page and is on the device again. Leave the page open until Sharing says that all of it is stored at the relay.",
    seen: "I have read it",
  },
  helperLost: {
    title: "Signatures are checked more slowly",
    body: "The part of the app that checks signatures beside the screen did not start or has stopped. They are checked all the same, only more slowly: a long record may take some minutes. Loading the page anew, or a newer browser, may help.",
    seen: "I have read it",
  },

  elsewhere: {
    title: "Open in another tab",
    body: "This device's record is open in another tab or window of this browser. Only one may write at a time, or the club's other devices could not tell which of the two to believe.",
    here: "Use it here",
  },
  lost: {
    "another-tab": {
      title: "Taken over by another tab",
      body: "You are using this device in another tab now. Everything you saved here is in the record.",
    },
    "storage-closed": {
      title: "The storage was wanted elsewhere",
      body: "Another tab of this browser, with a newer version of the app or to clear its data, asked for the storage, and this one let go. Everything you saved is in the record. Load the page to go on.",
    },
    again: "Open it here again",
  },
} as const;
