/**
 * The rules AU1 to AU9 once more, for a club's book with a root and two devices, written from the numbered list and from nothing else:
 * no layers, no chains, only questions asked of the whole set again and again. What it says is held against what the record says
 * (all-small-worlds.test.ts).
 */

export type Name = "root" | "p" | "q";
export type Given = "handicapper" | "recorder";

/** What somebody says in one place of his chain. `at`: the place of the last entry that counts, and whether that very entry is meant. */
export type Said =
  | { readonly type: "opens" }
  | { readonly type: "reports" }
  | { readonly type: "admits"; readonly who: Name; readonly as: Given }
  | { readonly type: "bars"; readonly who: Name; readonly at: number | null; readonly thisVery: boolean };

/** Of each author, what he says in each place of his chain; two in one place are a fork. */
export type SmallWorld = Readonly<Record<Name, readonly (readonly Said[])[]>>;

export type Answer = "yes" | "not-admitted" | "after-bar" | "role-may-not" | "forked";

const names: readonly Name[] = ["root", "p", "q"];

/** For each author, the answer for each place before his fork; whatever lies in or behind a fork is `forked`. */
export function plainAnswers(world: SmallWorld): Record<Name, Answer[]> {
  const sound = (who: Name): readonly Said[] => {
    const fork = world[who].findIndex((place) => place.length > 1);
    return world[who].slice(0, fork === -1 ? undefined : fork).map(([said]) => said!);
  };
  // AU1
  const isOpen = sound("root")[0]?.type === "opens";

  /** AU5, AU6: the first place that a bar takes out. */
  const cutBy = (bar: Extract<Said, { type: "bars" }>): number => {
    if (bar.at === null) return 0;
    const isThere = bar.at < sound(bar.who).length;
    return isThere && !bar.thisVery ? bar.at : bar.at + 1;
  };
  const lowest = (bars: readonly Said[], who: Name): number =>
    Math.min(Infinity, ...bars.flatMap((bar) => (bar.type === "bars" && bar.who === who ? [cutBy(bar)] : [])));

  // AU7: of handicappers only the root's bars are asked.
  const handicappers = new Set<Name>();
  const rootBars = sound("root");
  const before = (who: Name, cut: number): readonly Said[] => sound(who).slice(0, cut);
  const officersSay = (): readonly Said[] => [
    ...rootBars,
    // AU8
    ...[...handicappers].flatMap((who) => before(who, lowest(rootBars, who))),
  ];
  for (let found = true; found; ) {
    found = false;
    for (const said of officersSay()) {
      if (said.type !== "admits" || said.as !== "handicapper" || said.who === "root" || handicappers.has(said.who))
        continue;
      handicappers.add(said.who);
      found = true;
    }
  }
  // AU2, AU3
  const recorders = new Set<Name>();
  for (const said of officersSay()) {
    if (said.type === "admits" && said.as === "recorder" && said.who !== "root" && !handicappers.has(said.who)) {
      recorders.add(said.who);
    }
  }
  const cutOf = (who: Name): number => {
    if (who === "root") return Infinity;
    return lowest(handicappers.has(who) ? rootBars : officersSay(), who);
  };

  const answer = (who: Name, said: Said, place: number): Answer => {
    // AU4
    if (!isOpen || (who !== "root" && !handicappers.has(who) && !recorders.has(who))) return "not-admitted";
    if (place >= cutOf(who)) return "after-bar";
    // AU9
    if (said.type === "reports") return "yes";
    if (recorders.has(who)) return "role-may-not";
    // AU7
    if (said.type === "bars" && (said.who === "root" || (who !== "root" && handicappers.has(said.who)))) {
      return "role-may-not";
    }
    return "yes";
  };
  const all = {} as Record<Name, Answer[]>;
  for (const who of names) {
    const { length } = sound(who);
    all[who] = world[who].map(([said], place) => (place < length ? answer(who, said!, place) : "forked"));
  }
  return all;
}
