/**
 * Writes that arrive while the disk is busy go down together in the next one: a thousand rooms that write at once wait for a few
 * syncs, not for a thousand. Each caller's operations stay together and in order. Rejected: a timer that collects for some
 * milliseconds; it makes a lone write wait for company that does not come.
 */

interface Waiting<T> {
  readonly operations: readonly T[];
  readonly bytes: number;
  readonly done: () => void;
  readonly failed: (cause: unknown) => void;
}

/** Most bytes that go down together, so that one write does not grow without limit behind a slow disk. */
const mostBytes = 8 * 1024 * 1024;

/** `write` is called with one group at a time; what it rejects with, every caller of that group is rejected with. */
export function createGroupCommit<T>(
  write: (operations: readonly T[]) => Promise<void>,
): (operations: readonly T[], bytes: number) => Promise<void> {
  const waiting: Waiting<T>[] = [];
  let running = false;

  const run = async (): Promise<void> => {
    while (waiting.length > 0) {
      let bytes = 0;
      const end = waiting.findIndex((one, place) => {
        bytes += one.bytes;
        return place > 0 && bytes > mostBytes;
      });
      const group = waiting.splice(0, end === -1 ? waiting.length : end);
      try {
        await write(group.flatMap(({ operations }) => operations));
        for (const { done } of group) done();
      } catch (cause) {
        for (const { failed } of group) failed(cause);
      }
    }
    running = false;
  };

  return (operations, bytes) =>
    new Promise((done, failed) => {
      waiting.push({ operations, bytes, done, failed });
      if (running) return;
      running = true;
      void run();
    });
}
