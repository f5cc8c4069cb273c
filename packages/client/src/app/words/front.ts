/** What people read where a browser's devices are listed, and where it has none. */
export const frontWords = {
  title: "Devices in this browser",
  lead: "Each opens with its own keys, as a phone or tablet of its own would.",
  open: (label: string) => `Open ${label}`,
  emptyTitle: "This browser is not a device of a club yet",
  emptyBody:
    "As a device of a club it keeps the club's record itself and works without a signal. Your club's handicapper invites you with a link or a code; whoever begins the record starts the club here. Was it one? A browser that was cleared or short of space has thrown it away: ask for a new invitation; the relay has what was shared.",
  start: "Start a club",
  "start-league": "Start a league",
  join: "Join a club with an invitation",
  recover: "Recover a club with its words",
  more: "Another club or device",
  emptyDemo: "Trying the demonstration clubs? Use one of the addresses that were printed when it was started.",
  unknown: "This browser has no pass for that device. Open the address you were given once more.",
  broken:
    "That address is not complete: it may have been cut by an e-mail program. Copy the whole of it, or ask for it again.",
} as const;
