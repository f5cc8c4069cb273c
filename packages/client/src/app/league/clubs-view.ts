/** The clubs of a league, and what this device may do when a club's device, or one of its own club, asks to come in. Pure. */
import type { BookState, KeyId, PlayerId, Role } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import type { RosterRecord } from "../../book/roster.ts";
import type { LeagueAsk } from "../../league/joining.ts";

export interface ClubLine {
  readonly club: KeyId;
  readonly name: string;
  /** Its devices that are not barred, without its own key. */
  readonly devices: number;
  readonly players: number;
}

export function clubLines({
  clubs,
  devices,
  players,
}: Pick<BookState, "clubs" | "devices" | "players">): readonly ClubLine[] {
  const lines = [...clubs.values()].map(({ club, name }) => ({
    club,
    name,
    devices: [...devices.values()].filter((one) => one.club === club && one.device !== club && !one.barred).length,
    players: [...players.values()].filter(({ home }) => (home?.book as string | undefined) === club).length,
  }));
  return lines.sort((a, b) => byCodeUnits(a.name, b.name) || byCodeUnits(a.club, b.club));
}

/** Members of the club that the league does not know yet, in no order. */
export const notEntered = (
  club: Pick<BookState, "players">,
  league: Pick<BookState, "players">,
): readonly PlayerId[] => {
  const known = new Set([...league.players.values()].flatMap(({ player, alsoKnownAs }) => [player, ...alsoKnownAs]));
  return [...club.players.values()]
    .filter(({ standing, player, alsoKnownAs }) => {
      return standing === "member" && ![player, ...alsoKnownAs].some((id) => known.has(id));
    })
    .map(({ player }) => player);
};

/** What other clubs see of a name: of somebody under eighteen not the full one. */
export const enteredName = ({ name, short, junior }: RosterRecord): RosterRecord =>
  junior === true ? { name: short, short, junior } : { name, short };

export type Taken =
  /** With the league's own key: at hand, or made of the words. */
  | { readonly type: "admit-club"; readonly byWords: boolean }
  /** The club is in: its device is only handed the keys. */
  | { readonly type: "club-here" }
  | { readonly type: "admit-device"; readonly role: Role }
  | { readonly type: "device-here" }
  | { readonly type: "may-not"; readonly why: "not-an-officer" | "of-another-club" | "not-our-device" | "barred" };

/** @param own this device's club's book */
export function takeAsk(
  { clubs, devices }: Pick<BookState, "clubs" | "devices">,
  device: KeyId,
  own: Pick<BookState, "devices">,
  ask: Pick<LeagueAsk, "clubId" | "device">,
): Taken {
  const here = devices.get(device);
  if (here === undefined || here.barred || (here.role !== "root" && here.role !== "handicapper")) {
    return { type: "may-not", why: "not-an-officer" };
  }
  const asking = devices.get(ask.device);
  if (asking?.barred === true || devices.get(ask.clubId)?.barred === true) return { type: "may-not", why: "barred" };
  if (here.club === null) {
    return clubs.has(ask.clubId) ? { type: "club-here" } : { type: "admit-club", byWords: here.role !== "root" };
  }
  if (here.club !== ask.clubId) return { type: "may-not", why: "of-another-club" };
  if (asking !== undefined) return { type: "device-here" };
  const role = own.devices.get(ask.device)?.role;
  if (role === undefined || own.devices.get(ask.device)?.barred === true) {
    return { type: "may-not", why: "not-our-device" };
  }
  return { type: "admit-device", role: role === "root" ? "handicapper" : role };
}
