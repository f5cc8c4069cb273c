/** The worker: a thread that checks signatures, or opens and reads whole envelopes (`checks-beside.ts` and `reads-beside.ts` start it). */
import type { ReadAsk, ReadBegin } from "../book/read-service.ts";
import { serveReads } from "../book/read-service.ts";
import type { CheckAsk } from "./check-service.ts";
import { serveChecks } from "./check-service.ts";
import { ed25519Here } from "./ed25519.ts";

const check = serveChecks(ed25519Here, (answers) => postMessage(answers));
// As one text, which a page reads in half the time that copies of so many objects take it.
const read = serveReads(ed25519Here, (answer) => postMessage(JSON.stringify(answer)));
addEventListener("message", ({ data }: MessageEvent<readonly CheckAsk[] | ReadBegin | ReadAsk>) => {
  if ("length" in data) check(data);
  else read(data);
});
