/**
 * Asks for the language's tables of dates and of the order of letters in a thread of its own, first of all. A browser reads them once for
 * a process, whichever thread asks first: that takes a phone a tenth of a second, and the first screen, which wants them half a second
 * later, waited for it. Where threads do not share them nothing is lost.
 *
 * Rejected: months and weekdays as words of our own (a reader's browser knows how he writes a date) and to ask for them in the page's
 * thread while the database opens (one task of a tenth of a second, in which nothing that came from the disk was taken).
 */
import script from "./dates-read.ts?worker&url";

try {
  new Worker(script, { type: "module" });
} catch {
  // A browser that gives none: the page asks when it wants them.
}
