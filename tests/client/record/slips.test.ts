/** Results of games away on their way home as slips, with real keys and signatures. */
import type { Book } from "@sward/client";
import { readSlip, reportsToSend, takeRecord, takeSlip, verifyRecordFile, writeSlip } from "@sward/client";
import { canonicalText } from "@sward/core";
import fc from "fast-check";
import { expect, test } from "vitest";
import { event, played, player } from "../../support/cast.ts";
import { stateText } from "../../support/state-text.ts";
import type { NewClub } from "./new-club.ts";
import { newClub } from "./new-club.ts";
import { entryBy, nextIn, playedClub, save, signedClub, signer } from "./signed-club.ts";

const ada = player("ada");
const guest = player("guest");
const SEED = 20_261_131;

/** Ada of Larkhill plays at Millbrook, which wrote her down as a visitor under an id of its own. */
async function away(linked = true): Promise<NewClub> {
  const club = await newClub(40);
  const here = club.handicapper;
  await save(here, { kind: "player-joined", body: { player: guest, standing: "visitor", home: { club: "Larkhill" } } });
  await save(here, { kind: "player-joined", body: { player: player("mona"), standing: "member" } });
  if (linked) await save(here, { kind: "player-linked", body: { player: guest, to: ada } });
  const cup = { event: event("cup"), title: "Cup", from: "2026-05-08", to: "2026-05-10" };
  await save(here, { kind: "event-opened", body: { ...cup, occasion: "calendar-event" } });
  await save(here, {
    kind: "match-reported",
    body: played("2026-05-08", "guest 6", "mona 9", "7-2", { event: event("cup") }),
  });
  await save(here, { kind: "match-reported", body: played("2026-05-09", "guest 6", "mona 9", "5-7") });
  return club;
}

function slipOf(book: Book, of = ada, days = {}): string {
  const written = writeSlip(book, reportsToSend(book, of, days));
  if (!written.ok) throw new Error(written.fault.type);
  return written.value;
}

async function read(text: string) {
  const slip = await readSlip(text);
  if (!slip.ok) throw new Error(JSON.stringify(slip.fault));
  return slip.value;
}

test("SL1 SL3 SL4 SL5 results away reach the card at home with their signer, once", async () => {
  const [larkhill, millbrook] = [await playedClub(), await away()];
  const text = slipOf(millbrook.handicapper);
  const slip = await read(text);
  expect(slip).toMatchObject({ book: millbrook.book, name: "Millbrook" });
  const path = [{ key: millbrook.signers.handicapper.id, role: "handicapper", by: millbrook.signers.root.id }];
  expect(slip.reports.map(({ known }) => known)).toMatchObject([path, path]);
  // Nothing of the other club's but what these results need.
  expect(slip.lines.map(({ entry }) => entry.kind)).toEqual([
    ...["book-opened", "device-admitted", "player-linked", "event-opened", "match-reported", "match-reported"],
  ]);

  const before = larkhill.handicapper.state().cards.get(ada)!.lines.length;
  const taken = await takeSlip(larkhill.handicapper, slip);
  expect(taken).toMatchObject({ ok: true, value: { players: [ada], added: 2, known: 0, unconfirmed: 0 } });
  const state = larkhill.handicapper.state();
  const { lines } = state.cards.get(ada)!;
  expect(lines.slice(before)).toMatchObject([
    { date: "2026-05-08", score: [7, 2], event: event("cup"), occasion: "club-competition" },
    { date: "2026-05-09", score: [5, 7] },
  ]);
  const match = [...state.matches.values()].find(({ event: of }) => of === event("cup"));
  expect(match?.reports).toMatchObject([{ origin: millbrook.book, by: millbrook.signers.handicapper.id }]);
  expect(state.events.get(event("cup"))?.title).toBe("Cup");

  const once = stateText(state);
  const again = await takeSlip(larkhill.handicapper, await read(text));
  expect(again).toMatchObject({ ok: true, value: { added: 0, known: 2, entries: null } });
  // One of the two alone, by another road: nothing new either.
  const one = await read(slipOf(millbrook.handicapper, ada, { to: "2026-05-08" }));
  expect(await takeSlip(larkhill.handicapper, one)).toMatchObject({ value: { added: 0, known: 1, entries: null } });
  expect(stateText(larkhill.handicapper.state())).toBe(once);
});

test(`SL4 MV7 slips in any order and however often, and the record after them, give one card (seed ${SEED})`, async () => {
  const larkhill = await playedClub();
  const millbrook = await away();
  await save(
    millbrook.handicapper,
    ...["2026-05-11", "2026-05-12"].map(
      (day) => ({ kind: "match-reported", body: played(day, "guest 6", "mona 9", "7-3") }) as const,
    ),
  );
  const days = ["2026-05-08", "2026-05-09", "2026-05-11", "2026-05-12"];
  const slips = await Promise.all(days.map((day) => read(slipOf(millbrook.handicapper, ada, { from: day, to: day }))));
  const file = await verifyRecordFile(await larkhill.record("ada"));
  if (!file.ok) throw new Error(file.fault.type);
  const cards = new Set<string>();
  await fc.assert(
    fc.asyncProperty(
      fc.shuffledSubarray([0, 1, 2, 3], { minLength: 4 }),
      fc.array(fc.nat(3), { maxLength: 3 }),
      fc.nat(4),
      async (order, again, when) => {
        // The club she moves to: the record comes between the slips, before or after them.
        const coldbrook = (await newClub(50, "Coldbrook")).handicapper;
        await save(coldbrook, { kind: "player-joined", body: { player: ada, standing: "member" } });
        for (const [at, n] of [...order, ...again].entries()) {
          if (at === when)
            expect(await takeRecord(coldbrook, file.value, { cutover: "2026-06-01" })).toMatchObject({ ok: true });
          expect(await takeSlip(coldbrook, slips[n]!)).toMatchObject({ ok: true });
        }
        const last = await takeRecord(coldbrook, file.value, { cutover: "2026-06-01" });
        expect(last.ok).toBe(true);
        cards.add(canonicalText(coldbrook.state().cards.get(ada)));
      },
    ),
    { seed: SEED, numRuns: 12 },
  );
  console.info(`seed ${SEED}: ${cards.size} card`);
  expect(cards.size).toBe(1);
});

test("SL5 where no link says who it is, whoever takes it in does; not somebody it cannot be", async () => {
  const [larkhill, millbrook] = [await playedClub(), await away(false)];
  const home = larkhill.handicapper;
  const slip = await read(slipOf(millbrook.handicapper, guest));
  const before = stateText(home.state());
  expect(await takeSlip(home, slip)).toMatchObject({ fault: { type: "slip-nobody", name: "Millbrook" } });
  const elsewhere = { player: guest, standing: "visitor", home: { book: millbrook.book } } as const;
  expect(stateText(home.state())).toBe(before);
  const taken = await takeSlip(home, slip, { player: guest, is: ada });
  expect(taken).toMatchObject({ ok: true, value: { players: [ada], added: 2 } });
  expect(home.state().players.get(ada)?.alsoKnownAs).toEqual([guest]);

  // Known here as a player of that club: not ours.
  const other = (await signedClub(80)).handicapper;
  await save(other, { kind: "player-joined", body: elsewhere });
  const here = stateText(other.state());
  expect(await takeSlip(other, slip, { player: guest, is: ada })).toMatchObject({
    fault: { type: "slip-other-player", why: { type: "link-two-homes" } },
  });
  expect(stateText(other.state())).toBe(here);
});

test("SL2 SL3 SL6 refused, and nothing changed: altered, an own one, none in it, a signer who may not", async () => {
  const [larkhill, millbrook] = [await playedClub(), await away()];
  const text = slipOf(millbrook.handicapper);
  const rows = text.trimEnd().split("\n");
  for (const [at, row] of rows.entries()) {
    const altered = `${row.slice(0, -20)}${row.at(-20) === "A" ? "B" : "A"}${row.slice(-19)}`;
    const read = await readSlip(`${rows.with(at, altered).join("\n")}\n`);
    expect(read).toMatchObject({ ok: false, fault: { type: "record-forged", line: at + 1 } });
  }
  expect(await readSlip(`${rows.slice(1).join("\n")}\n`)).toMatchObject({ ok: false });
  expect(await readSlip(text.slice(0, -1))).toMatchObject({ fault: { type: "record-unended" } });
  expect(await readSlip(`${rows.slice(0, 3).join("\n")}\n`)).toMatchObject({ fault: { type: "slip-nothing" } });
  expect(await readSlip("")).toMatchObject({ fault: { type: "slip-nothing" } });
  expect(writeSlip(larkhill.handicapper, [])).toMatchObject({ fault: { type: "slip-nothing" } });
  expect(await takeSlip(millbrook.handicapper, await read(text))).toMatchObject({ fault: { type: "slip-own-book" } });

  // A device that may only read signed one more: it is told, and not taken.
  const phone = await signer(70);
  await save(millbrook.handicapper, { kind: "device-admitted", body: { device: phone.key, role: "reader" } });
  const { seq, prev } = nextIn(millbrook.handicapper, phone.id);
  const body = played("2026-05-12", "guest 6", "mona 9", "7-0");
  const forbidden = await entryBy(phone, millbrook.book, "match-reported", body, { seq, prev });
  const admission = [...millbrook.handicapper.counted()].find(
    ({ entry }) => entry.kind === "device-admitted" && entry.body.device === phone.key,
  );
  const more = [millbrook.handicapper.signed(admission!.entry.id)!, forbidden].map((jws) => JSON.stringify(jws));
  const slip = await read(`${[...rows, ...more].join("\n")}\n`);
  expect(slip.reports.map(({ uncounted }) => uncounted)).toEqual([null, null, "role-may-not"]);
  expect(await takeSlip(larkhill.handicapper, slip)).toMatchObject({ value: { added: 2, unconfirmed: 1 } });
  const alone = await read(`${[...rows.slice(0, 4), ...more].join("\n")}\n`);
  const before = stateText(larkhill.handicapper.state());
  expect(await takeSlip(larkhill.handicapper, alone)).toMatchObject({ fault: { type: "slip-unconfirmed" } });
  expect(stateText(larkhill.handicapper.state())).toBe(before);
});
