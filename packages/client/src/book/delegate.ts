/** An object whose functions are at any time those of another one, which may be exchanged behind it. */
export function delegate<T extends object>(to: () => T): T {
  const names = Object.keys(to()) as (keyof T)[];
  const functions = names.map((name) => {
    const value = to()[name];
    if (typeof value !== "function") return [name, value];
    return [name, (...args: unknown[]) => (to()[name] as (...args: unknown[]) => unknown)(...args)];
  });
  return Object.fromEntries(functions) as T;
}
