/**
 * A league with real keys and real signatures: the league's root, three clubs' roots and a captain's device of two of them, each with
 * its own copy of the league's book, that hand each other their entries only when told to. A game a fixture, level play.
 */
import type { Book, Signer } from "@sward/client";
import { writeRecordFile } from "@sward/client";
import type { BookId, Draft, FixtureId, KeyId, LeagueRules } from "@sward/core";
import { findLeagueRules, fixtureSlots } from "@sward/core";
import { fixture, player } from "../../support/cast.ts";
import { AT, meet, openInMemory, save, signer } from "../record/signed-club.ts";

const base = findLeagueRules("everyone-meets");
if (base === undefined) throw new Error("the rule file is gone");
const level = { play: "level", format: 13, bestOf: 1 } as const;

export const leagueRules: LeagueRules = {
  ...base,
  slots: [1, 2, 3].map((seat) => ({ ...level, home: [seat], away: [seat] })),
};

export const CLUBS = ["Ash", "Birch", "Cedar"] as const;
export type ClubName = (typeof CLUBS)[number];

export interface SignedLeague {
  readonly book: BookId;
  readonly root: Book;
  readonly clubs: Readonly<Record<ClubName, { readonly key: KeyId; readonly captain: Book; readonly signer: Signer }>>;
  readonly fixtures: Readonly<Record<string, FixtureId>>;
  /** Each gets what the others have. */
  meet(): Promise<void>;
  reports(by: ClubName, at: string, slot: number, score: readonly [number, number]): Promise<void>;
  /** The league's whole book as a club's captain has it, or the league's root. */
  record(by: ClubName | "root"): Promise<string>;
}

const fixtureOf = {
  "Ash-Birch": ["Ash", "Birch"],
  "Cedar-Ash": ["Cedar", "Ash"],
  "Birch-Cedar": ["Birch", "Cedar"],
} as const;
type Meeting = keyof typeof fixtureOf;

const nameOf = (club: ClubName, seat: number): string => `${club}-${seat}`;

export async function signedLeague(seed = 60): Promise<SignedLeague> {
  const rootSigner = await signer(seed);
  const book = rootSigner.id as string as BookId;
  const root = await openInMemory(book, rootSigner);
  const clubs = {} as Record<ClubName, { key: KeyId; captain: Book; signer: Signer }>;
  await save(root, { kind: "book-opened", body: { root: rootSigner.key, as: "league", name: "Hedgerow League" } });
  await save(
    root,
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2026-01-01" } },
    { kind: "league-rules-set", body: { rules: { ...leagueRules }, from: "2026-01-01" } },
  );
  for (const [at, name] of CLUBS.entries()) {
    const [clubRoot, device] = [await signer(seed + 1 + 2 * at), await signer(seed + 2 + 2 * at)];
    await save(root, { kind: "club-admitted", body: { club: clubRoot.key, name } });
    const asClub = await openInMemory(book, clubRoot);
    await meet(root, asClub);
    await save(asClub, { kind: "device-admitted", body: { device: device.key, role: "handicapper" } });
    const captain = await openInMemory(book, device);
    await meet(root, asClub, captain);
    const home = { book: clubRoot.id as string as BookId };
    const joins = [1, 2, 3].map(
      (seat): Draft => ({
        kind: "player-joined",
        body: { player: player(nameOf(name, seat)), standing: "visitor", home },
      }),
    );
    await save(captain, ...joins);
    clubs[name] = { key: clubRoot.id, captain, signer: device };
  }
  const fixtures: Record<string, FixtureId> = {};
  for (const [at, meeting] of (Object.keys(fixtureOf) as Meeting[]).entries()) {
    const [home, away] = fixtureOf[meeting];
    const id = fixture(meeting);
    fixtures[meeting] = id;
    await save(root, {
      kind: "fixture-set",
      body: {
        fixture: id,
        date: `2026-05-0${at + 1}`,
        home: clubs[home].key,
        away: clubs[away].key,
        slots: fixtureSlots(leagueRules),
      },
    });
  }
  const everybody = () => [root, ...CLUBS.map((name) => clubs[name].captain)];
  await meet(...everybody());
  return {
    book,
    root,
    clubs,
    fixtures,
    meet: () => meet(...everybody()),
    async reports(by, at, slot, score) {
      const [home, away] = fixtureOf[at as Meeting];
      const side = (club: ClubName) => [{ player: player(nameOf(club, slot)), off: 4 }];
      const match: Draft = {
        kind: "match-reported",
        body: {
          date: "2026-05-09",
          occasion: "league",
          slot: { fixture: fixture(at), number: slot },
          n: 1,
          play: "level",
          format: 13,
          sides: [side(home), side(away)],
          games: [{ score: [...score] }],
        },
      };
      await save(clubs[by].captain, match);
    },
    async record(by) {
      const [from, device] = by === "root" ? [root, rootSigner] : [clubs[by].captain, clubs[by].signer];
      const written = await writeRecordFile(from, device, { player: null, at: AT });
      if (!written.ok) throw new Error(JSON.stringify(written.fault));
      return written.value.text;
    },
  };
}
