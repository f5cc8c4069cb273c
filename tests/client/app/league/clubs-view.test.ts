import type { BookId, BookState, KeyId } from "@sward/core";
import { expect, test } from "vitest";
import { clubLines, enteredName, notEntered, takeAsk } from "../../../../packages/client/src/app/league/clubs-view.ts";
import { clubs, league } from "../../../support/cast.ts";

const { north, south } = clubs("north", "south");
const { league: border, captains } = league("border", { north, south });
const secretary = border.root.admits("secretary", "handicapper");
const clerk = border.root.admits("clerk", "recorder");
captains.north.joins("Ann", "visitor", { book: north.id });

const state = (): BookState => border.ledger().state();
const key = (name: string) => name as KeyId;
/** A club's own book with these devices, as far as it is looked at. */
const own = (...devices: readonly (readonly [string, "handicapper" | "reader" | "root", boolean?])[]) =>
  ({
    devices: new Map(
      devices.map(([device, role, barred = false]) => [
        key(device),
        { device: key(device), role, club: null, admittedBy: key(device), barred },
      ]),
    ),
  }) as unknown as Pick<BookState, "devices">;

const stranger = { clubId: key("west"), device: key("tablet") };
const another = { clubId: north.root.id, device: key("tablet") };

test("clubs are listed by name with their devices and players, without their own key", () => {
  expect(clubLines(state())).toEqual([
    { club: north.root.id, name: "north", devices: 1, players: 1 },
    { club: south.root.id, name: "south", devices: 1, players: 0 },
  ]);
});

test("the league's own key admits a club at once, another officer of the league with words, one that is in is handed the keys", () => {
  const { id } = border.root;
  expect(takeAsk(state(), id, own(), stranger)).toEqual({ type: "admit-club", byWords: false });
  expect(takeAsk(state(), secretary.id, own(), stranger)).toEqual({ type: "admit-club", byWords: true });
  expect(takeAsk(state(), secretary.id, own(), another)).toEqual({ type: "club-here" });
});

test("a club's officer admits its own club's devices, as what they are there, and nobody else's", () => {
  const { id } = captains.north;
  const take = (ask: typeof another, book: ReturnType<typeof own>) => takeAsk(state(), id, book, ask);
  expect(take(another, own(["tablet", "reader"]))).toEqual({ type: "admit-device", role: "reader" });
  expect(take(another, own(["tablet", "root"]))).toEqual({ type: "admit-device", role: "handicapper" });
  expect(take({ ...another, device: id }, own())).toEqual({ type: "device-here" });
  expect(take(stranger, own(["tablet", "reader"]))).toEqual({ type: "may-not", why: "of-another-club" });
  expect(take(another, own(["phone", "reader"]))).toEqual({ type: "may-not", why: "not-our-device" });
  expect(take(another, own(["tablet", "reader", true]))).toEqual({ type: "may-not", why: "not-our-device" });
});

test("recorders admit nobody, a device that is not admitted neither, and a barred one is not let in again", () => {
  expect(takeAsk(state(), clerk.id, own(), stranger)).toEqual({ type: "may-not", why: "not-an-officer" });
  expect(takeAsk(state(), key("nobody"), own(), stranger)).toEqual({ type: "may-not", why: "not-an-officer" });
  border.root.bars(captains.south, null);
  const ask = { clubId: south.root.id, device: captains.south.id };
  expect(takeAsk(state(), secretary.id, own(), ask)).toEqual({ type: "may-not", why: "barred" });
  const barred = { ...ask, device: key("tablet") };
  expect(takeAsk(state(), captains.south.id, own(["tablet", "reader"]), barred)).toEqual({
    type: "may-not",
    why: "not-an-officer",
  });
  expect(border.id as BookId).toBe(state().book);
});

test("members are offered until the league knows them under any id; visitors and who has left are not", () => {
  const person = (player: string, standing: string, ...alsoKnownAs: string[]) => [
    player,
    { player, standing, alsoKnownAs },
  ];
  const book = (...people: ReturnType<typeof person>[]) =>
    ({ players: new Map(people as never) }) as unknown as Pick<BookState, "players">;
  const home = book(
    person("ann", "member"),
    person("bo", "member", "bo-2"),
    person("cy", "visitor"),
    person("di", "left"),
    person("ed", "member"),
  );
  expect(notEntered(home, book())).toEqual(["ann", "bo", "ed"]);
  expect(notEntered(home, book(person("bo-2", "visitor"), person("x", "visitor", "ed")))).toEqual(["ann"]);
});

test("the full name of somebody under eighteen does not go to the league", () => {
  const full = { name: "Ann Larch", short: "Ann L." };
  expect(enteredName({ ...full, device: "phone" })).toEqual(full);
  expect(enteredName({ ...full, junior: true })).toEqual({ name: "Ann L.", short: "Ann L.", junior: true });
});
