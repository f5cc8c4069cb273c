/** What people read about a record's devices, and about what each role may do. */
import type { DeedName, RoleShown } from "../devices/deeds.ts";
import { count } from "../words.ts";

export const devicesWords = {
  device: "Device",
  office: "May",
  admitted: "Admitted",
  heard: "Last heard of",
  actions: "To do",
  leagueKey: "the league's own key",
  openedAt: (moment: string) => `${moment}, when the record was opened`,
  admittedBy: (moment: string, by: string) => `${moment}, by ${by}`,
  byUnknown: "by an entry that is not here yet",
  heardAt: (moment: string, entries: number) => `${moment}, ${count(entries, "entry", "entries")}`,
  heardNothing: "nothing written yet",
  forked: "wrote two different entries in one place; what came after does not count",

  roles: {
    title: "What each role may do",
    lead: "A role is given when a device is admitted. What this device may not do it shows and explains, and does not hide.",
    caption: (office: string) => `This device is ${office}`,
    deed: "To",
    who: "Who may",
    yours: "This device",
    yes: "yes",
    no: "no",
    own: "The club's own key is the words on paper. It is for what must not hang on one device.",
  },
  role: {
    root: "the club's key",
    handicapper: "handicapper",
    recorder: "recorder",
    reader: "reader",
  } satisfies Readonly<Record<RoleShown, string>>,
  deed: {
    read: "read the whole record",
    report: "enter matches, and correct or take back its own",
    visitor: "add visitors",
    member: "add members, and note who left",
    correct: "correct or take back what other devices entered",
    set: "set handicaps",
    sign: "sign off cards and changes",
    settle: "settle questions and disputed matches",
    rules: "adopt rules and the club's policy",
    erase: "erase a person's name",
    admit: "invite and admit devices",
    bar: "bar recorders' and readers' devices",
    "bar-handicapper": "bar a handicapper's device",
  } satisfies Readonly<Record<DeedName, string>>,
} as const;
