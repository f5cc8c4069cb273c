/** The worker: a thread that checks signatures and does nothing else (`checks-beside.ts` starts it). */
import type { CheckAsk } from "./check-service.ts";
import { serveChecks } from "./check-service.ts";
import { ed25519Here } from "./ed25519.ts";

const heard = serveChecks(ed25519Here, (answers) => postMessage(answers));
addEventListener("message", ({ data }: MessageEvent<readonly CheckAsk[]>) => heard(data));
