/** Parts of a page that come in turn, drawn for real. */
import { h, render } from "preact";
import { useContext, useEffect, useLayoutEffect, useState } from "preact/hooks";
import { expect, test } from "vitest";
import { ComesByItself, InTurn } from "../../packages/client/src/app/in-turn.tsx";
import { inTurn } from "../../packages/client/src/app/turns.ts";

/** Tasks of the page's thread, counted by one that always follows another. */
function countTasks(): { now(): number; stop(): void } {
  let count = 0;
  let stopped = false;
  const { port1, port2 } = new MessageChannel();
  port1.onmessage = () => {
    count += 1;
    if (!stopped) port2.postMessage(null);
  };
  port2.postMessage(null);
  return {
    now: () => count,
    stop() {
      stopped = true;
    },
  };
}

test("what a part asks for is worked out in a task before it is drawn; it comes by itself once, and what is drawn in it later does not", async () => {
  const into = document.createElement("div");
  document.body.append(into);
  const tasks = countTasks();
  const seen: string[] = [];
  let prepared = 0;
  let drawn = 0;
  let show = (_which: number): void => undefined;

  function Entered({ name }: { readonly name: string }) {
    const comesByItself = useContext(ComesByItself);
    useLayoutEffect(() => void seen.push(`${name} ${comesByItself.current ? "by itself" : "asked for"}`), []);
    return h("p", null, name);
  }
  function Inside() {
    const [which, setWhich] = useState(1);
    show = setWhich;
    if (drawn === 0) drawn = tasks.now();
    return h(Entered, { key: which, name: `screen ${which}` });
  }
  const prepare = (): void => {
    prepared = tasks.now();
    expect(into.textContent).toBe("before");
  };
  render(h(InTurn, { part: "screen", prepare, before: "before", children: h(Inside, null) }), into);
  expect([into.textContent, prepared, drawn]).toEqual(["before", 0, 0]);
  await expect.poll(() => into.textContent).toBe("screen 1");
  expect(prepared).toBeGreaterThan(0);
  expect(drawn).toBeGreaterThan(prepared);
  show(2);
  await expect.poll(() => into.textContent).toBe("screen 2");
  expect(seen).toEqual(["screen 1 by itself", "screen 2 asked for"]);
  tasks.stop();
  render(null, into);
  into.remove();
});

test("a part that was left before its turn is neither worked out nor drawn", async () => {
  const into = document.createElement("div");
  let touched = 0;
  const touch = (): void => {
    touched += 1;
  };
  const Inside = () => h("p", { ref: touch });
  const left = new Promise<void>((done) => {
    function Before() {
      // Its turn comes before that of the rest.
      useEffect(() => {
        inTurn("screen", () => {
          render(null, into);
          done();
        });
      }, []);
      return null;
    }
    render(h(InTurn, { part: "rest", prepare: touch, before: h(Before, null), children: h(Inside, null) }), into);
  });
  await left;
  await new Promise((soon) => setTimeout(soon, 100));
  expect(touched).toBe(0);
});
