/**
 * What is made when it is first asked for, and kept: forms of entries, of which a start needs two or three. All of them at once were half of
 * what a phone did before it drew anything. Rejected: zod's own `lazy`, which hides a form's members from the plain checks made of it
 * (`ledger/quick-form.ts`).
 */

export function later<T>(make: () => T): () => T {
  let made: { readonly it: T } | null = null;
  return () => {
    made ??= { it: make() };
    return made.it;
  };
}

/** The same of each member, under its name. */
export function madeLater<T extends Readonly<Record<string, () => unknown>>>(
  makers: T,
): { readonly [K in keyof T]: ReturnType<T[K]> } {
  const all = {};
  for (const [name, make] of Object.entries(makers))
    Object.defineProperty(all, name, { enumerable: true, get: later(make) });
  return all as { readonly [K in keyof T]: ReturnType<T[K]> };
}
