/**
 * Does this in a task of its own, after those that wait; a timer would be put off by as much as a frame when many were set before. To read
 * ten years takes a thousand of them, and a pair of ports for each took a phone five times as long as the browser's own queue: they are
 * for a browser that has none (Safari).
 */
export const nextTask: (run: () => void) => void =
  "scheduler" in globalThis
    ? (run) => void scheduler.postTask(run)
    : (run) => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => {
          port1.close();
          run();
        };
        port2.postMessage(null);
      };
