/**
 * Whether memory stayed flat, from samples: a straight line is fitted by least squares to what came after the warm-up, and what it rises
 * over that time must be a small share of its level. A single high sample does not decide it, and a slow leak under the noise does: the
 * line's uncertainty shrinks with every sample. Rejected: comparing the first with the last, which noise decides.
 */

export interface Sample {
  /** Seconds since the beginning. */
  readonly at: number;
  readonly bytes: number;
}

export interface Fit {
  readonly samples: number;
  /** Mean of the samples, bytes. */
  readonly level: number;
  /** Bytes a second. */
  readonly slope: number;
  /** Standard error of the slope, bytes a second. */
  readonly error: number;
  /** What the line rises from the first sample to the last, as a share of the level. */
  readonly rise: number;
}

export type Flatness =
  | { readonly type: "flat"; readonly fit: Fit }
  | { readonly type: "grows"; readonly fit: Fit }
  /** Too few samples, or so noisy that the line could rise by more than is allowed without it showing. */
  | { readonly type: "unknown"; readonly fit: Fit };

const fewest = 20;

/** @param warmUp seconds that are not looked at @param most the largest rise, as a share of the level, that is called flat */
export function flatness(samples: readonly Sample[], warmUp: number, most: number): Flatness {
  const fit = fitted(samples.filter(({ at }) => at >= warmUp));
  if (fit.samples < fewest) return { type: "unknown", fit };
  if (fit.rise > most) return { type: "grows", fit };
  const seconds = fit.slope === 0 ? 0 : (fit.rise * fit.level) / fit.slope;
  const uncertain = (2 * fit.error * seconds) / fit.level;
  return { type: fit.rise + uncertain > 2 * most ? "unknown" : "flat", fit };
}

function fitted(samples: readonly Sample[]): Fit {
  const many = samples.length;
  const mean = (of: (sample: Sample) => number): number => samples.reduce((sum, one) => sum + of(one), 0) / many;
  const [middle, level] = [mean(({ at }) => at), mean(({ bytes }) => bytes)];
  const spread = samples.reduce((sum, { at }) => sum + (at - middle) ** 2, 0);
  const slope = samples.reduce((sum, { at, bytes }) => sum + (at - middle) * (bytes - level), 0) / spread;
  const left = samples.reduce((sum, { at, bytes }) => sum + (bytes - level - slope * (at - middle)) ** 2, 0);
  const error = Math.sqrt(left / Math.max(1, many - 2) / spread);
  const seconds = (samples.at(-1)?.at ?? 0) - (samples[0]?.at ?? 0);
  return { samples: many, level, slope, error, rise: (slope * seconds) / level };
}
