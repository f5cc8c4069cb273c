/**
 * So much at once, the others in the order in which they came: for reading rooms and for history on its way to callers, which a storm
 * wants all in one second. Rejected: turning the others away with "try later" (they come back all together, and dialling costs as much).
 */

export interface Budget {
  /** Resolves with what gives it back, to be called once. More than there is in all counts as all there is. */
  take(amount: number): Promise<() => void>;
  readonly waiting: number;
}

export function createBudget(whole: number): Budget {
  let free = whole;
  const waiting: { readonly amount: number; readonly grant: () => void }[] = [];

  const serve = (): void => {
    for (let next = waiting[0]; next !== undefined && next.amount <= free; next = waiting[0]) {
      waiting.shift();
      free -= next.amount;
      next.grant();
    }
  };
  const giveBack = (amount: number): (() => void) => {
    let given = false;
    return () => {
      if (given) return;
      given = true;
      free += amount;
      serve();
    };
  };
  return {
    take: (wanted) =>
      new Promise((granted) => {
        const amount = Math.min(wanted, whole);
        waiting.push({ amount, grant: () => granted(giveBack(amount)) });
        serve();
      }),
    get waiting() {
      return waiting.length;
    },
  };
}
