/** Threads that read beside, without the threads: each is a real channel to a real reading service, so that answers come as late. */
import { serveReads } from "../../../packages/client/src/book/read-service.ts";
import type { ReadsBeside } from "../../../packages/client/src/book/reads-beside.ts";
import { readsBeside } from "../../../packages/client/src/book/reads-beside.ts";
import { platformEd25519 } from "../../../packages/client/src/keys/ed25519.ts";

export interface ThreadsBeside {
  readonly reads: ReadsBeside;
  /** Texts they have read. */
  read(): number;
}

/** @param answers called before an answer of theirs is heard */
export function threadsBeside(answers: () => void = () => undefined): ThreadsBeside {
  let read = 0;
  const reads = readsBeside({
    threads: 2,
    start(heard) {
      const { port1, port2 } = new MessageChannel();
      const service = serveReads(
        () => Promise.resolve(platformEd25519),
        (answer) => port2.postMessage(answer),
      );
      port2.onmessage = ({ data }) => service(data);
      port1.onmessage = ({ data }) => {
        read += data.texts.length;
        answers();
        heard(data);
      };
      return {
        begin: (begin) => port1.postMessage(begin),
        ask: (asked) => port1.postMessage(asked, [asked.bytes.buffer]),
        stop: () => port1.close(),
      };
    },
    setTimeout: (run, after) => setTimeout(run, after).unref(),
    clearTimeout: (timer) => clearTimeout(timer as NodeJS.Timeout),
  });
  return { reads, read: () => read };
}
