/**
 * A rule set is data: what a governing body publishes, each row with where it was read. A book adopts one from a date and each
 * game is computed under the one in force on its day, so a new season's table never rewrites an old game. The governing body's
 * regulations and the club's committee always prevail over these numbers.
 *
 * Where sources differ, or a printed table could not be read, that is a setting here and `standing` says so; nothing is
 * presented as published that was not read. Rejected: rules as code per country (nobody could check a row against the page it
 * came from) and one shared table with switches (a reader could not tell whose rule a number was).
 *
 * SPEC: RU.
 */
import * as z from "zod/mini";
import { Format, Handicap, Index, Occasion } from "../ledger/kinds.ts";

const int = (min: number, max: number) => z.int().check(z.minimum(min), z.maximum(max));
const text = z.string().check(z.minLength(1));

/** `published`: read in the source. `derived`: computed or inferred from it. `common practice`: a fact of the trade, no source. */
export const Standing = z.enum(["published", "derived", "common practice"]);
export type Standing = z.infer<typeof Standing>;

/** Where a row comes from: a key of the set's `sources`, or null for common practice. */
const provenance = { source: z.nullable(text), standing: Standing };

/** The handicap is that of a player whose index reaches `trigger` from below (or falls to it from above). */
export const TriggerRow = z.strictObject({ handicap: Handicap(), trigger: Index(), ...provenance });
export type TriggerRow = z.infer<typeof TriggerRow>;

/** The winner gains and the loser loses `points`, whatever the handicaps. */
export const FixedExchange = z.strictObject({ kind: z.literal("fixed"), points: int(0, 1000), ...provenance });

/** points = round(sum / (1 + base^(D/scale))), halves up, held within min..max; D = winner's trigger less loser's. */
export const LogisticExchange = z.strictObject({
  kind: z.literal("logistic"),
  base: int(2, 100),
  scale: int(1, 5000),
  sum: int(2, 1000),
  min: int(0, 1000),
  max: int(0, 1000),
  ...provenance,
});
export type LogisticExchange = z.infer<typeof LogisticExchange>;

/** Moves no index. */
export const NoExchange = z.strictObject({ kind: z.literal("none"), ...provenance });

/** The body publishes a table that could not be read: moves no index, and says so on the card. */
export const UnreadExchange = z.strictObject({ kind: z.literal("unread"), ...provenance });

export const ExchangeRule = z.discriminatedUnion("kind", [FixedExchange, LogisticExchange, NoExchange, UnreadExchange]);
export type ExchangeRule = z.infer<typeof ExchangeRule>;

/**
 * When a trigger point that was passed changes the handicap. `game`: at once. `match`: after the last game of the match.
 * `day`: after the last game of the day. `event`: after the event when it lasts at most `eventDays` days or is of one of the
 * `wholeEvents` occasions, else after the day. Asked through `isOneSpan` of effective.ts.
 */
export const Effective = z.strictObject({
  unit: z.enum(["game", "match", "day", "event"]),
  eventDays: int(1, 366),
  wholeEvents: z.array(Occasion()),
  ...provenance,
});
export type Effective = z.infer<typeof Effective>;

/** 13-point strokes times numerator / denominator, halves up. */
export const Conversion = z.strictObject({
  format: Format(),
  numerator: int(1, 100),
  denominator: int(1, 100),
  ...provenance,
});
export type Conversion = z.infer<typeof Conversion>;

/**
 * `cross`: the lower of each side against the higher of the other. `like`: lower against lower, higher against higher.
 * `one-per-side`: only one partner of a side may round up a half and the pair chooses who. `each`: every half rounds up.
 */
export const DoublesStrokes = z.strictObject({
  pairing: z.enum(["cross", "like"]),
  halves: z.enum(["one-per-side", "each"]),
  ...provenance,
});
export type DoublesStrokes = z.infer<typeof DoublesStrokes>;

export const Counting = z.strictObject({ occasion: Occasion(), counts: z.boolean(), ...provenance });
export type Counting = z.infer<typeof Counting>;

/** A starting handicap by a published three-rounds stroke count: `atLeast`..`atMost` strokes, null for open ends. */
export const AssessmentRow = z.strictObject({
  atLeast: int(1, 1000),
  atMost: z.nullable(int(1, 1000)),
  handicap: Handicap(),
  index: Index(),
  ...provenance,
});
export type AssessmentRow = z.infer<typeof AssessmentRow>;

/**
 * For a card kept on the scale before this one: handicaps `from`..`to` of that scale keep their number and `add` goes onto the index;
 * a player whose new index is `unless.index` or more becomes `unless.handicap` instead.
 */
export const OlderScaleRow = z.strictObject({
  from: Handicap(),
  to: Handicap(),
  add: Index(),
  unless: z.nullable(z.strictObject({ index: Index(), handicap: Handicap() })),
  ...provenance,
});
export type OlderScaleRow = z.infer<typeof OlderScaleRow>;

export const RuleSet = z.strictObject({
  id: z.string().check(z.regex(/^[a-z0-9][a-z0-9-]{1,58}$/)),
  title: text,
  body: text,
  sources: z.record(z.string(), z.strictObject({ title: text, url: text })),
  /** Ascending by handicap, descending by trigger. */
  triggers: z.array(TriggerRow).check(z.minLength(2)),
  exchange: z.strictObject({
    handicapSingles: ExchangeRule,
    handicapDoubles: ExchangeRule,
    levelSingles: ExchangeRule,
    levelDoubles: ExchangeRule,
  }),
  effective: Effective,
  counting: z.array(Counting),
  strokes: z.strictObject({ conversions: z.array(Conversion), doubles: DoublesStrokes }),
  assessment: z.array(AssessmentRow),
  /** Empty when the body published no conversion, or it could not be read. */
  olderScale: z.array(OlderScaleRow),
});
export type RuleSet = z.infer<typeof RuleSet>;
