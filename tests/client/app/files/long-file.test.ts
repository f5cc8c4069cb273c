/** A long file: exactly its bad lines are told, what is looked up is looked up once, and the work is in pieces. */
import { expect, test } from "vitest";
import { importDrafts } from "../../../../packages/client/src/app/files/drafts.ts";
import { recallImport, rememberImport, withdrawalsOf } from "../../../../packages/client/src/app/files/last-import.ts";
import { SLICE } from "../../../../packages/client/src/app/files/slices.ts";
import { clubInMemory, report } from "../entry/club-in-memory.ts";
import { importAt, memoryStore, outcomeOf, told } from "./import-at-hand.ts";

const members = Array.from({ length: 40 }, (_, at) => ({
  name: `${"ABCDEFGH"[at % 8]}na${at} Quill${at}`,
  handicap: 2 + (at % 9),
}));
const LINES = 5000;
const BAD: ReadonlyMap<number, string> = new Map([
  [2, "score"],
  [501, "date"],
  [502, "player"],
  [1700, "score"],
  [2444, "handicap"],
  [2500, "date"],
  [3333, "opponent"],
  [4001, "score"],
  [4999, "player"],
  [5001, "date"],
]);

function longFile(): string {
  const lines = ["date,player,handicap,opponent,opponent handicap,score,occasion"];
  for (let at = 0; at < LINES; at++) {
    const day = new Date(Date.UTC(2030, 1, 1) + Math.floor(at / 11) * 86_400_000).toISOString().slice(0, 10);
    const own = members[at % 40]!;
    const other = members[(at * 7 + 3) % 40 === at % 40 ? (at + 1) % 40 : (at * 7 + 3) % 40]!;
    const spoilt = BAD.get(at + 2);
    lines.push(
      [
        spoilt === "date" ? "2030-13-01" : day,
        spoilt === "player" ? "Nobody Known" : own.name,
        spoilt === "handicap" ? "99" : own.handicap,
        spoilt === "opponent" ? "" : other.name,
        other.handicap,
        spoilt === "score" ? "7-8" : `7-${at % 7}`,
        "ad-hoc",
      ].join(","),
    );
  }
  return lines.join("\n");
}

test("of five thousand lines with ten bad ones exactly those are told, and the rest is saved as one and taken back as one", async () => {
  const club = await clubInMemory(members);
  let pauses = 0;
  const importing = importAt(club, memoryStore(), () => {
    pauses += 1;
    return Promise.resolve();
  });
  await importing.take("season.csv", longFile());
  expect(told(importing).filter((line) => !line.endsWith(" new"))).toEqual(
    [...BAD].map(([line, field]) => expect.stringMatching(new RegExp(`^${line} faulty, ${field}: `))),
  );
  expect(outcomeOf(importing).counts).toEqual({ new: 4990, recorded: 0, differs: 0, faulty: 10, "left-out": 0 });
  // Dates, names and lines, each in slices.
  expect(pauses).toBe(3 * Math.ceil(LINES / SLICE));

  await importing.change({ leftOut: new Set(BAD.keys()) });
  const { matches, people, titles } = outcomeOf(importing);
  const before = club.book.state().matches.size;
  const saved = await club.save(...importDrafts(matches, people, titles).drafts);
  expect(club.book.state().matches.size - before).toBe(4990);
  await importing.rework();
  expect(outcomeOf(importing).counts).toEqual({ new: 0, recorded: 4990, differs: 0, faulty: 0, "left-out": 10 });

  const back = withdrawalsOf(club.book, { first: saved[0]!, last: saved.at(-1)! }, "taken back");
  expect(back).toHaveLength(4990);
  await club.save(...back);
  expect(club.book.state().matches.size).toBe(before);
}, 120_000);

test("newer work overtakes older, which stops", async () => {
  const club = await clubInMemory(members);
  const importing = importAt(club, memoryStore(), () => new Promise((resolve) => setTimeout(resolve, 0)));
  const first = importing.take("", longFile());
  const second = importing.change({ defaults: { ...importing.choices.value.defaults, play: "level" } });
  expect(await first).toBe(false);
  expect(await second).toBe(true);
  expect(outcomeOf(importing).matches[0]?.play).toBe("level");
  const third = importing.rework();
  importing.clear();
  expect(await third).toBe(false);
  expect(importing.outcome.value).toBeNull();
});

test("visitors and events come with the import; taken back they go, but for those somebody has used since", async () => {
  const club = await clubInMemory(members.slice(0, 2));
  const [ana, bna] = members;
  const importing = importAt(club);
  await importing.take(
    "",
    [
      "date,player,handicap,opponent,opponent handicap,score,event",
      `2031-05-02,${ana!.name},2,Rex Orme,5,7-4,Spring Cup`,
      `2031-05-01,${bna!.name},3,Pim Noll,6,7-4,spring cup`,
    ].join("\n"),
  );
  await importing.change({ defaults: { ...importing.choices.value.defaults, occasion: "club-competition" } });
  expect(told(importing)).toEqual(["2 faulty, opponent: name-unknown", "3 faulty, opponent: name-unknown"]);
  const visitors = outcomeOf(importing).names.map(
    ({ key }, at) => [key, { type: "visitor", player: `${at}`.repeat(22) as never }] as const,
  );
  await importing.change({ names: new Map(visitors) });
  expect(told(importing)).toEqual(["2 faulty, event: event-open", "3 faulty, event: event-open"]);
  const [event] = outcomeOf(importing).events;
  expect(event).toMatchObject({ title: "Spring Cup", season: "2031", lines: 2 });
  await importing.change({ events: new Map([[event!.key, { type: "open", event: "E".repeat(22) as never }]]) });
  const { matches, people, titles } = outcomeOf(importing);
  const { drafts, joining } = importDrafts(matches, people, titles);
  expect(joining.map(({ name, short }) => [name, short])).toEqual([
    ["Rex Orme", "Rex O"],
    ["Pim Noll", "Pim N"],
  ]);
  const saved = await club.save(...drafts);
  expect([...club.book.state().events.values()]).toEqual([
    { title: "Spring Cup", occasion: "club-competition", from: "2031-05-01", to: "2031-05-02" },
  ]);

  const [rex, pim] = joining;
  await club.save(report([[rex!.player, 5]], [[pim!.player, 6]], [7, 1], { event: "E".repeat(22) as never }));
  await club.save(...withdrawalsOf(club.book, { first: saved[0]!, last: saved.at(-1)! }, "taken back"));
  const state = club.book.state();
  expect([state.matches.size, state.events.size, state.players.has(pim!.player)]).toEqual([1, 1, true]);
});

test("the last import is remembered, and what is no such thing is not", async () => {
  const club = await clubInMemory([]);
  const store = memoryStore();
  const last = { first: "a" as never, last: "b" as never, games: 3, on: "2031-06-14", name: "x.csv" };
  expect(recallImport(store, club.book.device)).toBeNull();
  rememberImport(store, club.book.device, last);
  expect(recallImport(store, club.book.device)).toEqual(last);
  store.setItem(`sward/last-import/${club.book.device}`, "{}");
  expect(recallImport(store, club.book.device)).toBeNull();
});
