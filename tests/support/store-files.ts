/** Looking for bytes in the files of a store, whatever store it is: a browser's profile, a LevelDB folder. */
import { readdirSync, readFileSync, statSync } from "node:fs";
import { join } from "node:path";

/** Long enough to be nobody else's, short enough for a store that cuts a value into pieces. */
const PIECE = 24;

const filesIn = (folder: string): string[] =>
  readdirSync(folder).flatMap((name) => {
    const path = join(folder, name);
    try {
      return statSync(path).isDirectory() ? filesIn(path) : [path];
    } catch {
      // Gone meanwhile, or a socket: a browser is at work there.
      return [];
    }
  });

/** Files that hold any piece of the value, by their path below the folder. */
export function filesWith(folder: string, value: Uint8Array): string[] {
  const pieces: Buffer[] = [];
  for (let from = 0; from + PIECE <= value.length; from += PIECE)
    pieces.push(Buffer.from(value.slice(from, from + PIECE)));
  return filesIn(folder)
    .filter((path) => {
      try {
        const bytes = readFileSync(path);
        return pieces.some((piece) => bytes.includes(piece));
      } catch {
        return false;
      }
    })
    .map((path) => path.slice(folder.length + 1));
}
