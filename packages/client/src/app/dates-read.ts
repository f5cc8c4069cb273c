/** What the thread of `dates-ahead.ts` does: it shows a day and compares two words to nobody, and ends. */
import { showDay } from "./dates.ts";

showDay("2000-01-01");
new Intl.Collator(undefined, { sensitivity: "base" }).compare("a", "b");
close();
