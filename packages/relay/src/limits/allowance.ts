/**
 * How much somebody may do in a while: so much at once, and so much a second after that. Kept as one number and one time, which is why a
 * hundred thousand of them cost little. Rejected: counting in fixed windows (twice the limit goes through at each turn of a window).
 */

export interface Allowance {
  /** Takes so much if there is so much; else takes nothing and says how many milliseconds until there is. */
  take(amount: number, now: number): number;
}

/** @param burst at once @param perSecond after that */
export function createAllowance(burst: number, perSecond: number): Allowance {
  let left = burst;
  let at: number | null = null;
  return {
    take(amount, now) {
      // A clock that goes back gives nothing and takes nothing.
      if (at !== null && now > at) left = Math.min(burst, left + ((now - at) / 1000) * perSecond);
      at = at === null ? now : Math.max(at, now);
      // What is larger than all that can ever be saved up goes when the purse is full, and leaves a debt.
      const needed = Math.min(amount, burst);
      if (left >= needed) {
        left -= amount;
        return 0;
      }
      return Math.ceil(((needed - left) / perSecond) * 1000);
    },
  };
}
