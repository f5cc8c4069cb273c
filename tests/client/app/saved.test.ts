/** Saving from a screen: what takes long says so, what is saved can be undone, what is refused changes nothing. */
import { expect, test } from "vitest";
import { save, saved, saving, undoSaved } from "../../../packages/client/src/app/saved.ts";
import { clubInMemory, report } from "./entry/club-in-memory.ts";

const wait = (milliseconds: number): Promise<void> => new Promise((done) => setTimeout(done, milliseconds));

test("what takes more than half a second says so until it is saved; what does not says nothing", async () => {
  const { book, id } = await clubInMemory([
    { name: "Ada Wren", handicap: 7 },
    { name: "Bo Linnet", handicap: 9 },
  ]);
  const draft = report([[id("Ada"), 7]], [[id("Bo"), 9]], [7, 4]);
  let said = 0;
  const stop = saving.subscribe((now) => {
    if (now) said += 1;
  });
  expect(await save(book, [draft], "quickly")).toBeNull();
  expect(said).toBe(0);
  // The same book on a disk that needs its time.
  const slow: typeof book = { ...book, append: (drafts) => wait(900).then(() => book.append(drafts)) };
  const saves = save(slow, [{ ...draft, body: { ...draft.body, n: 2 } }], "slowly");
  await wait(300);
  expect(saving.value).toBe(false);
  await wait(400);
  expect(saving.value).toBe(true);
  expect(await saves).toBeNull();
  expect(saving.value).toBe(false);
  expect(saved.value?.sentence).toBe("slowly");
  await undoSaved();
  expect([said, saving.value]).toEqual([2, false]);
  expect([...book.state().matches.values()].filter(({ reports }) => reports.length > 0)).toHaveLength(1);
  stop();
  await book.close();
});

test("undone twice at once, as by a finger that presses twice, it is taken back once and stays said to be undone", async () => {
  const { book, id } = await clubInMemory([
    { name: "Ada Wren", handicap: 7 },
    { name: "Bo Linnet", handicap: 9 },
  ]);
  expect(await save(book, [report([[id("Ada"), 7]], [[id("Bo"), 9]], [7, 4])], "entered")).toBeNull();
  const before = book.held();
  await Promise.all([undoSaved(), undoSaved()]);
  expect(book.held()).toBe(before + 1);
  expect(saved.value).toEqual({ sentence: expect.stringContaining("entered"), undo: null });
  await book.close();
});

test("what is refused is said, and neither saved nor offered to be undone", async () => {
  const { book, id } = await clubInMemory([{ name: "Ada Wren", handicap: 7 }]);
  saved.value = null;
  const refused = await save(book, [report([[id("Ada"), 7]], [[id("Ada"), 7]], [7, 4])], "never");
  expect(refused?.what).toContain("twice");
  expect([saved.value, saving.value]).toEqual([null, false]);
  await book.close();
});
