/** Folders that are gone after the test file that asked for them. */
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll } from "vitest";

export function temporaryFolders(): () => string {
  const made: string[] = [];
  afterAll(() => {
    for (const folder of made) rmSync(folder, { recursive: true, force: true });
  });
  return () => {
    const folder = mkdtempSync(join(tmpdir(), "sward-"));
    made.push(folder);
    return folder;
  };
}
