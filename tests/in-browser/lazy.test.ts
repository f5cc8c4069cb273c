/** A screen whose script comes when it is wanted, in a real page, where effects run after a frame was painted. */
import { h, render } from "preact";
import { afterEach, expect, test } from "vitest";
import { lazyPart } from "../../packages/client/src/app/lazy.tsx";

const place = document.createElement("main");
document.body.append(place);
afterEach(() => render(null, place));

/** A part, and what brings its script. */
function comingPart() {
  let come = (): void => undefined;
  const script = new Promise<{ Part: () => string }>((done) => {
    come = () => done({ Part: () => "it is here" });
  });
  return { Part: lazyPart(() => script, "Part"), come };
}

test("a script that comes after the screen was drawn is shown", async () => {
  const { Part, come } = comingPart();
  render(h(Part, {}), place);
  await expect.poll(() => place.textContent).not.toBe("");
  come();
  await expect.poll(() => place.textContent).toBe("it is here");
});

test("a script that comes between the drawing of the screen and its first frame is shown", async () => {
  const { Part, come } = comingPart();
  // It was on its way already, as every screen's is some time after a start.
  void Part.fetch();
  render(h(Part, {}), place);
  come();
  await expect.poll(() => place.textContent).toBe("it is here");
});

test("a script that is here already is shown at once", async () => {
  const { Part, come } = comingPart();
  come();
  await Part.fetch();
  render(h(Part, {}), place);
  expect(place.textContent).toBe("it is here");
});
