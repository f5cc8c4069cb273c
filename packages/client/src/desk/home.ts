/**
 * A device's home under Node: a folder with its pass in `pass.json` and, beside it, a LevelDB for each vault and document. The pass
 * holds the device's secret, so only its owner may read the file. A home belongs to one device for good: another device's pass over
 * it would leave a vault whose chain nobody can go on.
 *
 * The file edge: zod reads the pass.
 */
import { chmod, mkdir, readFile, rename, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { BookId, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import type { Book } from "../book/book.ts";
import { openBook } from "../book/book.ts";
import type { Clock } from "../book/options.ts";
import type { Signer } from "../keys/signer.ts";
import { createSigner } from "../keys/signer.ts";
import type { HomeFault } from "./faults.ts";
import { nodeBookOptions } from "./node.ts";
import { Pass, seedOf } from "./pass.ts";
import { systemClock } from "./platform.ts";

export interface Home {
  readonly pass: Pass;
  readonly device: Signer;
  readonly clock: Clock;
  /** Opens one of the pass's books, with no relay. Everything in the vault is in its state when it resolves. */
  open(book: BookId): Promise<Result<Book, HomeFault>>;
}

const passFile = (folder: string): string => join(folder, "pass.json");

const causeOf = (error: unknown): string => (error instanceof Error ? error.message : String(error));

export async function readHome(folder: string): Promise<Result<Pass, HomeFault>> {
  let text: string;
  try {
    text = await readFile(passFile(folder), "utf8");
  } catch (error) {
    return fail({ type: "home-not-read", folder, cause: causeOf(error) });
  }
  const pass = Pass().safeParse(parseJson(text));
  return pass.success ? ok(pass.data) : fail({ type: "home-not-a-pass", folder });
}

function parseJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

/** Makes a folder a device's home, or gives the device that lives there its new pass; the old file or the new, never half of one. */
export async function writeHome(folder: string, pass: Pass): Promise<Result<null, HomeFault>> {
  const before = await readHome(folder);
  if (before.ok ? before.value.seed !== pass.seed : before.fault.type === "home-not-a-pass") {
    return fail({ type: "home-taken", folder });
  }
  try {
    await mkdir(folder, { recursive: true });
    const fresh = `${passFile(folder)}.new`;
    await writeFile(fresh, `${JSON.stringify(pass, null, 2)}\n`, { mode: 0o600, flush: true });
    // A file that was there keeps the rights it had.
    await chmod(fresh, 0o600);
    await rename(fresh, passFile(folder));
    return ok(null);
  } catch (error) {
    return fail({ type: "home-not-written", folder, cause: causeOf(error) });
  }
}

export async function openHome(folder: string, clock: Clock = systemClock): Promise<Result<Home, HomeFault>> {
  const read = await readHome(folder);
  if (!read.ok) return read;
  const pass = read.value;
  const device = await createSigner(seedOf(pass));
  const books = [pass.club, ...pass.leagues];
  return ok({
    pass,
    device,
    clock,
    async open(book) {
      const found = books.find((one) => one.book === book);
      if (found === undefined) {
        return fail({ type: "home-no-such-book", folder, book, books: books.map((one) => one.book) });
      }
      try {
        const opened = await openBook(await nodeBookOptions(folder, device, found, null, clock));
        await opened.settled();
        return ok(opened);
      } catch (error) {
        return fail(isLocked(error) ? { type: "home-in-use", folder } : notRead(folder, error));
      }
    },
  });
}

const notRead = (folder: string, error: unknown): HomeFault => ({
  type: "home-not-read",
  folder,
  cause: causeOf(error),
});

/** LevelDB lets one process in at a time. */
const isLocked = (error: unknown): boolean =>
  error instanceof Error && (error.cause as { readonly code?: string } | undefined)?.code === "LEVEL_LOCKED";
