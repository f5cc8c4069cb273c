/** Does this in a task of its own, after those that wait; a timer would be put off by as much as a frame when many were set before. */
export function nextTask(run: () => void): void {
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => {
    port1.close();
    run();
  };
  port2.postMessage(null);
}
