/**
 * What each role may do in a club's book, as people speak of it. Each line asks the table by which the book itself judges entries, so
 * that what is shown cannot differ from what counts; only reading and barring an officer, which that table does not speak of, are said
 * here. Rejected: a table in words alone (it would be wrong after the first change of the other).
 */
import type { Kind } from "@sward/core";
import { mayMake } from "@sward/core";
import type { OfficeHere } from "../permission.ts";

export const rolesShown = ["root", "handicapper", "recorder", "reader"] as const;
export type RoleShown = (typeof rolesShown)[number];

export type DeedName =
  | "read"
  | "report"
  | "visitor"
  | "member"
  | "correct"
  | "set"
  | "sign"
  | "settle"
  | "rules"
  | "erase"
  | "admit"
  | "bar"
  | "bar-handicapper";

export interface Deed {
  readonly name: DeedName;
  readonly may: Readonly<Record<RoleShown, boolean>>;
}

type Asked = readonly [kind: Kind, body?: unknown];

const officers = { root: true, handicapper: true, recorder: false, reader: false };

const byKinds = (name: DeedName, ...asked: readonly Asked[]): Deed => {
  const may = (role: RoleShown): boolean =>
    asked.every(([kind, body = {}]) => mayMake({ kind, body }, role, "club", false) === "yes");
  return {
    name,
    may: {
      root: may("root"),
      handicapper: may("handicapper"),
      recorder: may("recorder"),
      reader: may("reader"),
    },
  };
};

/** In the order in which a club meets them. */
export const deeds: readonly Deed[] = [
  { name: "read", may: { root: true, handicapper: true, recorder: true, reader: true } },
  byKinds("report", ["match-reported"], ["entry-withdrawn"]),
  byKinds("visitor", ["player-joined", { standing: "visitor" }]),
  byKinds("member", ["player-joined", { standing: "member" }], ["player-left"]),
  { name: "correct", may: officers },
  byKinds("set", ["handicap-set"]),
  byKinds("sign", ["card-signed"]),
  byKinds("settle", ["ruling-made"]),
  byKinds("rules", ["rules-adopted"], ["policy-set"]),
  { name: "erase", may: officers },
  byKinds("admit", ["device-admitted"]),
  byKinds("bar", ["device-barred"]),
  { name: "bar-handicapper", may: { root: true, handicapper: false, recorder: false, reader: false } },
];

/** A device that is not admitted, or is barred, reads what it has the keys for and does nothing else. */
export const mayDo = (deed: Deed, office: OfficeHere): boolean =>
  office === "none" || office === "barred" ? deed.name === "read" : deed.may[office];
