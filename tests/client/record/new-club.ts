/** A club that nobody has joined yet, with real keys: a root's and a handicapper's device, each with its own book in memory. */
import type { Book, Signer } from "@sward/client";
import type { BookId } from "@sward/core";
import { meet, openInMemory, save, signer } from "./signed-club.ts";

export interface NewClub {
  readonly book: BookId;
  readonly root: Book;
  readonly handicapper: Book;
  readonly signers: { readonly root: Signer; readonly handicapper: Signer };
  /** The two hand each other what they have. */
  meet(): Promise<void>;
}

export async function newClub(seed: number, name = "Millbrook"): Promise<NewClub> {
  const [root, handicapper] = [await signer(seed), await signer(seed + 1)];
  const book = root.id as string as BookId;
  const books = { root: await openInMemory(book, root), handicapper: await openInMemory(book, handicapper) };
  await save(books.root, { kind: "book-opened", body: { root: root.key, as: "club", name } });
  await save(
    books.root,
    { kind: "rules-adopted", body: { rules: "england-2016", from: "2020-01-01" } },
    { kind: "device-admitted", body: { device: handicapper.key, role: "handicapper" } },
  );
  await meet(books.root, books.handicapper);
  return { book, ...books, signers: { root, handicapper }, meet: () => meet(books.root, books.handicapper) };
}
