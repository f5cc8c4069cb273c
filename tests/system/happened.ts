/** What went wrong, and how often: a run that never met a fault has said nothing about it. */
export interface Happened {
  (what: string, times?: number): void;
  counts(): ReadonlyMap<string, number>;
}

export function createHappened(): Happened {
  const counts = new Map<string, number>();
  const happened = (what: string, times = 1): void => {
    if (times > 0) counts.set(what, (counts.get(what) ?? 0) + times);
  };
  return Object.assign(happened, { counts: () => counts });
}
