/** More than is saved at once: in parts, each whole, told as they go, stopped between two, and brought to its end by the same file. */
import { expect, test } from "vitest";
import { recallImport, withdrawalsOf } from "../../../../packages/client/src/app/files/last-import.ts";
import type { SavingDeps } from "../../../../packages/client/src/app/files/saving.ts";
import { saveImport } from "../../../../packages/client/src/app/files/saving.ts";
import { clubInMemory } from "../entry/club-in-memory.ts";
import { importAt, memoryStore, outcomeOf } from "./import-at-hand.ts";

const members = Array.from({ length: 12 }, (_, at) => ({ name: `Wil${at} Tarn${at}`, handicap: 2 + (at % 9) }));
const GAMES = 50;
const PARTS = { together: 20, part: 20 };

/** Newest first, as many keep their season. */
function file(): string {
  const lines = Array.from({ length: GAMES }, (_, at) => {
    const day = new Date(Date.UTC(2031, 2, 1) + at * 86_400_000).toISOString().slice(0, 10);
    const [own, other] = [members[at % 12]!, members[(at + 5) % 12]!];
    return [day, own.name, own.handicap, other.name, other.handicap, "7-3", "ad-hoc"].join(",");
  });
  return ["date,player,handicap,opponent,opponent handicap,score,occasion", ...lines.reverse()].join("\n");
}

async function ready() {
  const club = await clubInMemory(members);
  const store = memoryStore();
  const importing = importAt(club, store);
  await importing.take("seasons.csv", file());
  const deps: SavingDeps = { club: club.book, store, today: club.today, recordOf: () => undefined };
  const days = () => [...club.book.state().matches.values()].map(({ facts }) => facts?.date ?? "").sort();
  return { club, store, importing, deps, days };
}

test("stopped between two parts: the oldest are in the record and are told, taken back as one, or joined by the rest from the same file", async () => {
  const { club, store, importing, deps, days } = await ready();
  const told: string[] = [];
  const answer = await saveImport(importing, deps, {
    told: (games, of) => told.push(`${games} of ${of}, ${days().length} in the record`),
    stopped: () => told.length === 1,
    parts: PARTS,
  });
  expect(answer).toEqual({ type: "stopped", games: 20, of: GAMES });
  expect(told).toEqual(["20 of 50, 20 in the record"]);
  expect([days()[0], days().at(-1)]).toEqual(["2031-03-01", "2031-03-20"]);
  const last = recallImport(store, club.book.device);
  expect(last).toMatchObject({ games: 20, name: "seasons.csv" });
  expect(withdrawalsOf(club.book, last!, "taken back")).toHaveLength(20);

  // The lines know it already, without being read again by anybody.
  expect(outcomeOf(importing).counts).toMatchObject({ new: 30, recorded: 20 });
  expect(await saveImport(importing, deps, { told: () => undefined, stopped: () => false, parts: PARTS })).toEqual({
    type: "saved",
  });
  expect(days()).toHaveLength(GAMES);
  expect(new Set(days()).size).toBe(GAMES);
  expect(recallImport(store, club.book.device)).toMatchObject({ games: 30 });
  await club.book.close();
});

test("stopped before the first part nothing is in the record; at most as many as go together are one append, which nobody can stop half way", async () => {
  const { club, importing, deps, days } = await ready();
  const at = (parts: typeof PARTS) => ({ told: () => undefined, stopped: () => true, parts });
  expect(await saveImport(importing, deps, at(PARTS))).toEqual({ type: "stopped", games: 0, of: GAMES });
  expect(days()).toEqual([]);
  const appends: number[] = [];
  const counting = {
    ...deps,
    club: {
      ...club.book,
      append(drafts: Parameters<typeof club.book.append>[0]) {
        appends.push(drafts.length);
        return club.book.append(drafts);
      },
    },
  };
  const never = { told: () => undefined, stopped: () => false };
  expect(await saveImport(importing, counting, { ...never, parts: { together: GAMES, part: 20 } })).toEqual({
    type: "saved",
  });
  expect(appends).toEqual([GAMES]);
  await club.book.close();
});

test("a part that is refused leaves those before it, and says how many", async () => {
  const { club, importing, deps, days } = await ready();
  let appends = 0;
  const refusing = {
    ...deps,
    club: {
      ...club.book,
      append(drafts: Parameters<typeof club.book.append>[0]): ReturnType<typeof club.book.append> {
        appends += 1;
        const full = { ok: false, fault: { type: "not-saved", cause: "full" } } as const;
        return appends === 3 ? Promise.resolve(full) : club.book.append(drafts);
      },
    },
  };
  const answer = await saveImport(importing, refusing, { told: () => undefined, stopped: () => false, parts: PARTS });
  expect(answer).toMatchObject({ type: "refused", games: 40, why: { what: expect.any(String) } });
  expect(days()).toHaveLength(40);
  expect(outcomeOf(importing).counts).toMatchObject({ new: 10, recorded: 40 });
  await club.book.close();
});
