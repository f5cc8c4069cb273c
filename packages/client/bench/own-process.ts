/** What is measured in a process of its own, whose memory has nothing else in it: a script of this folder that writes JSON. */
import { execFile } from "node:child_process";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";

export async function inOwnProcess<T>(script: string, ...given: readonly (string | number)[]): Promise<T> {
  const main = fileURLToPath(new URL(script, import.meta.url));
  const { stdout } = await promisify(execFile)(process.execPath, ["--import", "tsx", main, ...given.map(String)]);
  return JSON.parse(stdout);
}
