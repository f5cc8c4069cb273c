/** What people read at the lawn: few words, large, and the same ones every time. */
import type { Format } from "@sward/core";
import type { PadRefusal } from "../lawn/game.ts";
import type { Colour, HoopPlace } from "../lawn/order.ts";
import type { PadEvent } from "../lawn/pad.ts";
import type { PlanHint, StrokePlan } from "../lawn/stroke-plan.ts";
import type { Wakefulness } from "../lawn/wake-lock.ts";
import { count } from "../words.ts";

const colours: Readonly<Record<Colour, string>> = {
  blue: "blue",
  red: "red",
  black: "black",
  yellow: "yellow",
  green: "green",
  pink: "pink",
  brown: "brown",
  white: "white",
};

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

const ordinals = ["13th", "14th", "15th", "16th", "17th", "18th", "19th"] as const;

export const lawnWords = {
  title: "Score pad",
  lead: "For a game at the lawn: hoops, whose ball is next, and extra strokes one by one. It works without a signal, and every tap is kept on this device.",
  link: "Score pad",
  colour: (colour: Colour): string => colours[colour],
  byBalls: (balls: readonly Colour[]): string => capital(balls.map((ball) => colours[ball]).join(" and ")),
  together: (names: readonly string[]): string => names.join(" and "),
  versus: (one: string, two: string) => `${one} v ${two}`,

  list: {
    open: "Games in hand",
    done: "Saved as matches",
    none: "No game has been begun on this device.",
    goOn: (sides: string) => `Go on with ${sides}`,
    look: (sides: string) => `Look at ${sides}`,
    result: (sides: string) => `Enter the result of ${sides}`,
    told: (format: Format, score: string, begun: string) => `${format} points, ${score}, begun ${begun}`,
    over: "over, its result not saved yet",
    drop: (sides: string) => `Throw away ${sides}`,
    dropped: (sides: string) => `Thrown away: ${sides}`,
    bringBack: "Bring it back",
  },

  setup: {
    title: "A new game",
    hint: "Names and handicaps may wait until the result is entered. Extra strokes may not: they are handed over during the game.",
    slot: "In a league match",
    noSlot: "No league match",
    slotOf: (fixture: string, number: number) => `${fixture}, match ${number}`,
    format: "Points in a game",
    formats: { 7: "7", 13: "13", 19: "19" },
    play: "Play",
    plays: { handicap: "Handicap", level: "Level" },
    sides: "Sides",
    singles: "Singles",
    doubles: "Doubles",
    first: "Who plays the first ball",
    firstIs: (name: string, ball: Colour) => `${name} (${colours[ball]})`,
    lead: (ball: Colour) => `${capital(colours[ball])} is played by`,
    one: "One side",
    other: "The other side",
    colours: "Balls",
    coloursAre: {
      primary: "Blue, red, black, yellow",
      secondary: "Green, pink, brown, white",
    },
    given: (name: string) => `Extra strokes for ${name}`,
    givenHint:
      "These handicaps are not in the table of the rules here, or there are none yet. Work them out together and write them down; empty means none.",
    limited: "With a time limit",
    minutes: "Minutes",
    turns: "Turns in the extension",
    turnsHint: "Played after time is called. 0 when play stops at once.",
    level: "If it is level after that",
    levels: { "next-hoop": "The next hoop decides", stands: "It stays level" },
    begin: "Begin the game",
    notCount: (text: string, min: number, max: number) => `“${text}” is not a number from ${min} to ${max}.`,
    notKept: "This browser would not keep the pad: its storage is full or closed. Free some space and try again.",
  },

  hoop: ({ hoop, again }: HoopPlace, n: number): string =>
    again ? `Hoop ${hoop} again${n > 12 ? `, the ${ordinals[n - 13] ?? `${n}th`}` : `, the ${n}th`}` : `Hoop ${hoop}`,
  decides: "The next hoop decides.",
  scoreOf: (name: string, hoops: number) => `${name}: ${count(hoops, "hoop")}`,
  nextMark: "▼ next",
  order: "Whose ball is next",
  orderHint: "Tap another ball if a turn was missed.",
  ballOf: (name: string) => ` ${name} `,
  strokesLeft: (name: string, left: number, given: number) =>
    given === 0 ? `${name}: no extra strokes` : `${name}: ${left} of ${given} extra strokes left`,
  strokesLeftShort: (left: number, given: number) => `${left} of ${given} left`,
  strokesTitle: "Extra strokes",

  tap: {
    hoop: "Hoop",
    hoopFor: " for ",
    played: "Played, no hoop",
    undo: "Undo",
    undoOf: (what: string) => `Undo: ${what}`,
    nothingToUndo: "Undo: nothing tapped yet",
    take: "Extra stroke",
    takeFor: (name: string, left: number) => ` ${name}, ${left} left`,
    decline: "Say no",
    withdraw: "Take it back",
    of: (name: string) => ` ${name}`,
  },

  offer: {
    none: "No extra stroke can be taken now.",
    may: (name: string, ball: Colour, left: number) =>
      `${name} has played ${colours[ball]} and has ${count(left, "extra stroke")}.`,
    announced: (name: string, ball: Colour) => `${name} plays an extra stroke with ${colours[ball]}.`,
    rule: "It scores for the opponents only. After a fault, balls back first.",
    declined: (name: string) => `${name} has said no for this turn. That is final.`,
  },

  plan: {
    title: "A plan for the receiver",
    types: {
      none: "",
      keep: "Few strokes: keep them for the decisive later hoops.",
      spread: "Spread them, and use them to attack from the start.",
      "every-hoop": "Enough for one at almost every hoop.",
    } satisfies Readonly<Record<StrokePlan["type"], string>>,
    hoops: (hoops: readonly number[]): string =>
      `For example at ${hoops.length === 1 ? "hoop" : "hoops"} ${list(hoops)}.`,
    never: "Never carry one unused past the end. Common coaching practice, not a rule.",
    hints: {
      "now-or-never": "One hoop can end the game: what is not used now may never be.",
      "use-one": "By the plan, one may be used at this hoop.",
      keep: "By the plan, keep what is left for later hoops.",
    } satisfies Readonly<Record<PlanHint, string>>,
    of: (name: string) => `Plan for ${name}`,
  },

  event: (event: PadEvent, sides: readonly string[]): string => {
    switch (event.type) {
      case "stroke":
        return event.hoop === null ? "a ball played" : `the hoop for ${sides[event.hoop]}`;
      case "also":
        return `the second hoop for ${sides[event.side]}`;
      case "take":
        return "an extra stroke announced";
      case "withdraw":
        return "an extra stroke taken back";
      case "decline":
        return "no to an extra stroke";
      case "ball":
        return "another ball next";
      case "clock-on":
        return "the clock started";
      case "clock-off":
        return "the clock stopped";
      case "time":
        return "time called";
      case "stop":
        return "the game stopped";
      case "next-game":
        return "the next game begun";
    }
  },

  refusal: (refusal: PadRefusal, sides: readonly string[]): string => {
    switch (refusal.type) {
      case "game-over":
        return "The game is over. Undo first if that was a slip.";
      case "game-not-over":
        return "This game is not over yet.";
      case "own-hoop-in-extra":
        return `An extra stroke scores nothing for ${sides[refusal.side]}: the ball stays where it is, and the hoop is still to be played for. Tap “Played, no hoop”.`;
      case "no-stroke-to-offer":
        return {
          extension: "No extra strokes in the extension.",
          declined: "No was said for this turn, and that is final.",
          "nothing-played": "An extra stroke comes after the player's own turn.",
          "none-left": "The player who has just played has no extra stroke to take.",
        }[refusal.why];
      case "extra-announced":
        return "An extra stroke has been announced: play it, or take it back first.";
      case "extra-not-announced":
        return "No extra stroke has been announced.";
      case "no-hoop-before":
        return "The last tap was no hoop.";
      case "clock-runs":
        return "The clock runs already.";
      case "clock-stands":
        return "The clock is not running.";
      case "time-called":
        return "Time has been called already, or there is no time limit.";
      case "enough-games":
        return "A match has no more than nine games.";
    }
  },

  awake: {
    asking: "Asking for the screen to stay on",
    awake: "The screen stays on",
    refused: "The screen may go dark",
    "not-here": "The screen may go dark",
  } satisfies Readonly<Record<Wakefulness, string>>,
  bright: "Bright for sunlight",
  awakeHint: "The browser would not keep the screen on. The phone's own settings can: let the screen stay on longer.",
  kept: "Every tap is kept on this device.",
  notKept: "The last tap could NOT be kept: a reload would lose it. The browser's storage is full or closed.",

  clock: {
    start: "Start the clock",
    stop: "Stop the clock",
    goOn: "Go on with the clock",
    label: "Time left",
    up: "Time is up",
    call: "Call time",
    callHint: (turns: number) =>
      turns === 0 ? "Play stops when time is called." : `${count(turns, "more turn")} when time is called.`,
    extension: (turns: number) => `Extension: ${count(turns, "turn")} to play, no extra strokes`,
    deciding: "Level after time: the next hoop decides. Extra strokes may be used again.",
  },

  more: {
    title: "More",
    also: (name: string) => `The same stroke ran the next hoop too: for ${name}`,
    stopTime: "Stop here: time",
    stopAbandoned: "Stop here: abandoned",
    back: "All games",
  },

  over: {
    title: "The game is over",
    won: (name: string, score: string) => `${name} won ${score}.`,
    level: (score: string) => `It ended level, ${score}.`,
    abandoned: (score: string) => `Abandoned at ${score}.`,
    lapsed: (strokes: number) => `${count(strokes, "extra stroke")} left over: they lapse.`,
    enter: "Enter the result",
    another: "Another game of this match",
    anotherFirst: (name: string, ball: Colour) => `Next game, ${name} plays ${colours[ball]}`,
    games: (scores: string) => `Games before: ${scores}`,
    saved: "The result is saved as a match.",
  },

  result: {
    title: "Enter the result",
    lead: "As the pad kept it. Confirm the players and what it was played as, then save. Who scored each hoop and where extra strokes were used goes with it, as long as the score stays as it is.",
    notOver: "This game is not over yet.",
    noPad: "There is no such game on this device. It may have been begun on another phone, or thrown away.",
    noLeague:
      "The fixture this game was begun for is not on this device any more. Enter it as another match, or meet the relay first.",
    mayNotTitle: "This device reads only",
    mayNot:
      "The result cannot be saved here. Show the score to someone whose device may report matches; this pad keeps it until you throw it away.",
    backToPad: "Back to the pad",
  },
} as const;

function list(numbers: readonly number[]): string {
  const last = numbers.at(-1);
  const before = numbers.slice(0, -1);
  return before.length === 0 ? String(last) : `${before.join(", ")} and ${last}`;
}
