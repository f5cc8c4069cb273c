/**
 * How much somebody may do in a while: so much at once, and so much a second after that. Kept as one number and one time, which is why a
 * hundred thousand of them cost little. Rejected: counting in fixed windows (twice the limit goes through at each turn of a window).
 */

export interface Allowance {
  /** Takes so much if there is so much; else takes nothing and says how many milliseconds until there is. */
  take(amount: number, now: number): number;
  /**
   * Takes so much whether there is so much or not, for what has happened already, and says how many milliseconds until nothing is owed.
   * Of a flood many messages are there before its sender can be held up; if they were not counted it would never be held up for long.
   */
  owe(amount: number, now: number): number;
}

/** @param burst at once @param perSecond after that */
export function createAllowance(burst: number, perSecond: number): Allowance {
  let left = burst;
  let at: number | null = null;
  const saveUp = (now: number): void => {
    // A clock that goes back gives nothing and takes nothing, and saving begins from there: it may be right only now.
    if (at !== null && now > at) left = Math.min(burst, left + ((now - at) / 1000) * perSecond);
    at = now;
  };
  const until = (wanted: number): number => Math.max(0, Math.ceil(((wanted - left) / perSecond) * 1000));
  return {
    take(amount, now) {
      saveUp(now);
      // What is larger than all that can ever be saved up goes when the purse is full, and leaves a debt.
      const needed = Math.min(amount, burst);
      if (left < needed) return until(needed);
      left -= amount;
      return 0;
    },
    owe(amount, now) {
      saveUp(now);
      left -= amount;
      return until(0);
    },
  };
}
