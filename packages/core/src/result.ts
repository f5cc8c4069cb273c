/**
 * What anything that depends on input returns. Faults are closed unions of plain data; the sentences people read are in one
 * table in the client. Rejected: throwing (a caller can forget it, and the type does not say what can go wrong) and message
 * strings (they cannot be tested, translated or acted on). Broken invariants still throw: they are defects of ours, not input.
 */
export type Result<T, E> = { readonly ok: true; readonly value: T } | { readonly ok: false; readonly fault: E };

export const ok = <T>(value: T): { readonly ok: true; readonly value: T } => ({ ok: true, value });

export const fail = <E>(fault: E): { readonly ok: false; readonly fault: E } => ({ ok: false, fault });

/** For the default of a switch over a closed union: a case that was forgotten does not compile. */
export function unreachable(value: never): never {
  throw new Error(`unreachable: ${JSON.stringify(value)}`);
}
