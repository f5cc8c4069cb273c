/**
 * The network between devices and relays: one path for each pair, each with its own weather. On a bad path frames are lost, come
 * twice, come late and out of order; on a cut one nothing goes through, and after a while the connections over it break. A WebSocket
 * over TCP does less than this to its users (it breaks rather than lose a frame); middle boxes and our own defects do it.
 */
import type { Dice } from "./dice.ts";
import type { Life } from "./disks.ts";
import type { Happened } from "./happened.ts";
import type { Schedule } from "./schedule.ts";

export type Weather = "fine" | "lossy" | "muddled" | "slow" | "cut";

/** Percent of the frames lost and doubled, and the longest a frame may take. `ordered`: none overtakes another. */
const conditions: Readonly<Record<Weather, { lost: number; doubled: number; longest: number; ordered: boolean }>> = {
  fine: { lost: 0, doubled: 0, longest: 60, ordered: true },
  lossy: { lost: 15, doubled: 5, longest: 300, ordered: true },
  muddled: { lost: 2, doubled: 15, longest: 2_500, ordered: false },
  slow: { lost: 0, doubled: 0, longest: 9_000, ordered: true },
  cut: { lost: 100, doubled: 0, longest: 60, ordered: true },
};

/** One end of a connection. */
export interface End {
  open(): void;
  receive(frame: Uint8Array): void;
  /** The other end has closed, or the path broke (1006). */
  closed(code: number, reason: string): void;
}

export interface Wired {
  send(frame: Uint8Array): void;
  close(code: number, reason: string): void;
}

/** What listens at a relay: takes a call and gives back its own end. */
export type Answer = (address: string, back: Wired) => End;

export interface Path {
  weather(): Weather;
  become(weather: Weather): void;
  /** Breaks every connection. */
  breakAll(): void;
  /** Whether frames were lost since, on a connection that went on: a real one would have broken. */
  owesBreak(): boolean;
  /** A question and its answer over HTTP. */
  ask(name: string, question: () => Promise<Response>): Promise<Response>;
  /** Opens a connection; `end` is the caller's. */
  call(name: string, address: string, end: End, life: Life): Wired;
}

export interface PathDeps {
  readonly schedule: Schedule;
  readonly happened: Happened;
  readonly dice: Dice;
  readonly name: string;
  readonly answer: Answer;
  /** False while the relay is down. */
  readonly isUp: () => boolean;
}

export function createPath({ schedule, happened, dice, name, answer, isUp }: PathDeps): Path {
  let weather: Weather = "fine";
  const connections = new Set<() => void>();
  let owes = false;
  const calls = new Map<string, number>();

  /** A generator for one call, by its name and its number: what runs side by side must not share one. */
  function throwsOf(what: string): Dice {
    const number = (calls.get(what) ?? 0) + 1;
    calls.set(what, number);
    return dice.fork(`${what}/${number}`);
  }

  /** One direction of one connection. */
  function lane(label: string, own: Dice, receive: (frame: Uint8Array) => void) {
    let last = 0;
    let sent = 0;
    let newest = 0;
    return (frame: Uint8Array): void => {
      const { lost, doubled, longest, ordered } = conditions[weather];
      sent += 1;
      const number = sent;
      const copies = own.chance(lost) ? 0 : own.chance(doubled) ? 2 : 1;
      if (copies === 0) happened(weather === "cut" ? "frame into a cut path" : "frame dropped");
      if (copies === 0) owes = true;
      if (copies === 2) happened("frame duplicated");
      for (let copy = 0; copy < copies; copy += 1) {
        const takes = own.between(5, longest);
        const at = Math.max(schedule.now() + takes, ordered ? last : 0);
        last = Math.max(last, at);
        if (takes > 3_000) happened("frame delayed");
        schedule.after(at - schedule.now(), label, () => {
          if (weather === "cut") {
            owes = true;
            return happened("frame lost on a path cut meanwhile");
          }
          if (number < newest) happened("frame overtaken");
          newest = Math.max(newest, number);
          receive(frame.slice());
        });
      }
    };
  }

  return {
    weather: () => weather,
    become(next) {
      if (next === "cut" && weather !== "cut") happened("path cut");
      weather = next;
    },
    breakAll() {
      happened("connection broken", connections.size);
      for (const end of [...connections]) end();
      owes = false;
    },
    owesBreak: () => owes,
    ask(what, question) {
      const own = throwsOf(what);
      return new Promise((done, failed) => {
        const { longest, lost } = conditions[weather];
        const gone = own.chance(lost);
        schedule.after(own.between(5, longest), `${name} ${what}`, () => {
          if (gone || weather === "cut" || !isUp()) return failed(new TypeError("out of reach"));
          question().then(
            (answered) => schedule.after(own.between(5, longest), `${name} ${what}`, () => done(answered)),
            failed,
          );
        });
      });
    },
    call(what, address, end, life) {
      const own = throwsOf(what);
      let server: End | null = null;
      let open = true;
      const over = (code: number, reason: string): void => {
        if (!open) return;
        open = false;
        connections.delete(breaks);
        server?.closed(code, reason);
        if (!life.dead) end.closed(code, reason);
      };
      const breaks = (): void => over(1006, "");
      connections.add(breaks);
      const up = lane(`${name} ${what} up`, own.fork("up"), (frame) => {
        if (open) server?.receive(frame);
      });
      const down = lane(`${name} ${what} down`, own.fork("down"), (frame) => {
        if (open && !life.dead) end.receive(frame);
      });
      /** What one end closes, the other hears of a moment later. */
      const back: Wired = {
        send: (frame) => {
          if (open) down(frame);
        },
        close: (code, reason) => {
          if (open) schedule.after(own.between(5, 60), `${name} ${what} over`, () => over(code, reason));
        },
      };
      schedule.after(own.between(5, conditions[weather].longest), `${name} ${what} opening`, () => {
        if (!open) return;
        if (weather === "cut" || !isUp()) return breaks();
        server = answer(address, back);
        if (!life.dead) end.open();
      });
      return {
        send: (frame) => {
          if (open && !life.dead) up(frame);
        },
        close: () => {
          if (!open) return;
          // The caller hears nothing more; the relay may not know for a while.
          open = false;
          connections.delete(breaks);
          schedule.after(own.between(5, 60), `${name} ${what} over`, () => server?.closed(1000, ""));
        },
      };
    },
  };
}
