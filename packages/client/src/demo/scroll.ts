/**
 * Puts a book's writings in the order of the season and gives each its time. People write up a day at one hour; within the day
 * what others depend on comes first: the book, its people, their games, what is carried over, and signatures last.
 */

import type { Day } from "@sward/core";
import { byCodeUnits, byNumber } from "@sward/core";
import type { DeviceRef, Says, Writing, WritingRef } from "./world.ts";

const SECONDS_BETWEEN = 20;

export const stages = ["opening", "people", "games", "carrying", "signing"] as const;
export type Stage = (typeof stages)[number];

export interface Scroll {
  write(stage: Stage, day: Day, device: DeviceRef, ref: WritingRef, says: Says): void;
  /** `hour`: when people here write up the day, `hh:mm` UTC. */
  unroll(hour: string): Writing[];
}

interface Pending {
  readonly stage: number;
  readonly day: Day;
  readonly order: number;
  readonly writing: Omit<Writing, "at">;
}

export function createScroll(): Scroll {
  const pending: Pending[] = [];
  return {
    write(stage, day, device, ref, says) {
      pending.push({ stage: stages.indexOf(stage), day, order: pending.length, writing: { device, ref, says } });
    },
    unroll(hour) {
      let before = 0;
      return [...pending].sort(bySeason).map(({ day, writing }) => {
        const next = before + SECONDS_BETWEEN;
        before = Math.max(next, Date.parse(`${day}T${hour}:00Z`) / 1000);
        return { ...writing, at: new Date(before * 1000).toISOString().replace(".000Z", "Z") };
      });
    },
  };
}

const bySeason = (a: Pending, b: Pending): number =>
  byCodeUnits(a.day, b.day) || byNumber(a.stage, b.stage) || byNumber(a.order, b.order);
