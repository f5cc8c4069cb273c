/**
 * All a command may touch of the world. Given by `main.ts` and by tests; no command reaches for the process itself, so a test can
 * run one without starting Node anew and see every byte it would have written.
 */
import type { Day, Result } from "@sward/core";
import type { HomeFault } from "../desk/faults.ts";
import type { Home } from "../desk/home.ts";
import type { CliFault } from "./faults.ts";

export interface CliDeps {
  /** Standard output. Nothing is written there when a command is refused. */
  readonly out: (text: string) => void;
  /** Standard error. */
  readonly err: (text: string) => void;
  /** 0 is success and the default, 2 a refusal. */
  readonly setExitCode: (code: number) => void;
  /** A whole text file, UTF-8. */
  readonly readFile: (path: string) => Promise<Result<string, CliFault>>;
  /** Puts a whole text file, UTF-8, in place of what was there. */
  readonly writeFile: (path: string, text: string) => Promise<Result<null, CliFault>>;
  /** A device's folder. */
  readonly openHome: (folder: string) => Promise<Result<Home, HomeFault>>;
  /** The reader's calendar day. */
  readonly today: () => Day;
}
