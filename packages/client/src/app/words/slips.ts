/** What people read about result slips. Fetched with the parts that show them. */
import type { Day, Role } from "@sward/core";
import { showDay } from "../dates.ts";
import { number } from "../words.ts";

const results = (count: number): string => (count === 1 ? "1 result" : `${count} results`);

const roles: Readonly<Record<Role | "root", string>> = {
  root: "the club's own key",
  handicapper: "a handicapper's device",
  recorder: "a recorder's device",
  reader: "a device that only reads",
};

export const slipWords = {
  out: {
    title: "Results for the home club",
    lead: "A slip has the results with their signatures, so the home club can check them by itself and put them on the card. It holds no names.",
    from: "Games from this day on",
    make: "Make a slip",
    has: (count: number) => `The slip has ${results(count)}. Show the codes to the other device, or send the file.`,
    fileName: (today: string) => `result-slip-${today}.txt`,
  },

  in: {
    title: "A result slip from another club",
    lead: "Results that our members had elsewhere. Each is carried here with its own signature, and counts once however often it comes.",
    file: "The slip",
    fileHint: "A file from the other club, or its codes before the camera.",
    scan: "Read codes with the camera",
    stop: "Stop the camera",
    from: (club: string, count: number) => `From ${club}: ${results(count)}. Every signature holds.`,
    signed: (key: string, role: Role | "root" | null) =>
      `signed by ${key.slice(0, 10)}, ${role === null ? "not admitted there" : `${roles[role]} of that club`}`,
    not: "unconfirmed: its signer may not sign there, so it is left out",
    here: "here already",
    who: "Which of the slip's players is our member?",
    whoHint: "The other club knows them under entries of its own.",
    seat: (name: string, off: number, day: Day) => `${name}, off ${number(off)} on ${showDay(day)}`,
    member: "Our member",
    choose: "Choose",
    missing: "Choose both.",
    take: "Take the results in",
    mayNot: "This device may look and not write, so it takes nothing in.",
    sentence: (count: number, club: string) => `${results(count)} from ${club} taken in`,
    done: (added: number, known: number) =>
      added === 0
        ? "All of it was here already; nothing was changed."
        : `${results(added)} new, ${known} here already.`,
    toCard: (name: string) => `To the card of ${name}`,
  },
} as const;
