/**
 * Orders used wherever two devices must agree. By UTF-16 code units, as RFC 8785 sorts keys: a locale's collation differs
 * between machines and versions, so it was rejected.
 */
export const byCodeUnits = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);

export const byNumber = (a: number, b: number): number => a - b;
