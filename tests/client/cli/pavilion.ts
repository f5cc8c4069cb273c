/** Devices' folders as they are on a disk: a pass, a vault and documents in LevelDB, names in the roster. */
import { openHome, writeHome } from "@sward/client/node";
import { base64url } from "jose";
import { player } from "../../support/cast.ts";
import type { SignedClub } from "../record/signed-club.ts";
import { clock, SECRET, textsOf } from "../record/signed-club.ts";

const pass = (club: SignedClub, seed: number) => ({
  v: 1 as const,
  label: "Larkhill pavilion",
  seed: base64url.encode(new Uint8Array(32).fill(seed)),
  club: { book: club.book, epochs: [{ epoch: 1, secret: base64url.encode(SECRET) }] },
  leagues: [],
});

/** Makes `folder` the home of the device with that seed, with nothing in its book yet. */
export async function emptyHome(folder: string, club: SignedClub, seed: number): Promise<void> {
  const written = await writeHome(folder, pass(club, seed));
  if (!written.ok) throw new Error(written.fault.type);
}

/** The same, with everything the club's root has, and names of its members. */
export async function fullHome(folder: string, club: SignedClub, seed: number): Promise<void> {
  await emptyHome(folder, club, seed);
  await inHome(folder, club, async (book) => {
    await book.takeEntries(textsOf(club.root));
    const names = [
      ["ada", "Ada Wren"],
      ["ben", "Ben Linnet"],
      ["cat", "Cat Thorley"],
    ] as const;
    await book.roster.write(new Map(names.map(([id, name]) => [player(id), { name, short: name }])));
  });
}

type Book = SignedClub["root"];

export async function inHome<T>(folder: string, club: SignedClub, use: (book: Book) => Promise<T>): Promise<T> {
  const home = await openHome(folder, clock);
  const book = home.ok ? await home.value.open(club.book) : home;
  if (!book.ok) throw new Error(JSON.stringify(book.fault));
  try {
    return await use(book.value as Book);
  } finally {
    await (book.value as Book).close();
  }
}
