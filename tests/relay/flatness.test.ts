/** The judge of the soak, on memory that is known: it must find a leak, and must not find one in noise. */
import { expect, test } from "vitest";
import { withSection } from "../../packages/relay/bench/benchmarks-file.ts";
import type { Sample } from "../../packages/relay/bench/flatness.ts";
import { flatness } from "../../packages/relay/bench/flatness.ts";

const megabyte = 1024 * 1024;
const SEED = 4711;

/** Ten minutes, a sample every five seconds: a ramp of a minute, then 60 MB with noise of a megabyte or two, and a leak. */
function memory(leakBytesPerSecond: number, noise = 2 * megabyte): Sample[] {
  let state = SEED;
  const roll = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32 - 0.5;
  };
  return Array.from({ length: 120 }, (_, n) => {
    const at = n * 5;
    const ramp = Math.min(1, at / 60);
    return { at, bytes: ramp * 60 * megabyte + roll() * noise + leakBytesPerSecond * at };
  });
}

test(`memory that only shakes is flat, and the ramp of the warm-up does not count (seed ${SEED})`, () => {
  expect(flatness(memory(0), 120, 0.03).type).toBe("flat");
  expect(flatness(memory(0), 0, 0.03).type).toBe("grows");
});

test("a leak of eight kilobytes a second, which hides in the noise of any two samples, is found", () => {
  const leaking = memory(8 * 1024);
  const { type, fit } = flatness(leaking, 120, 0.03);
  expect(type).toBe("grows");
  expect(fit.slope).toBeGreaterThan(6 * 1024);
  expect(fit.slope).toBeLessThan(10 * 1024);
  expect(fit.error).toBeLessThan(fit.slope / 4);
});

test("one high sample at the end is no leak, and memory that falls is flat", () => {
  const spiked = memory(0).map((sample, n) => (n === 119 ? { ...sample, bytes: sample.bytes + 6 * megabyte } : sample));
  expect(flatness(spiked, 120, 0.03).type).toBe("flat");
  expect(flatness(memory(-8 * 1024), 120, 0.03).type).toBe("flat");
});

test("too few samples, and noise that could hide a leak, are no answer", () => {
  expect(flatness(memory(0).slice(0, 40), 120, 0.03).type).toBe("unknown");
  expect(flatness([], 0, 0.03).type).toBe("unknown");
  expect(flatness(memory(0, 60 * megabyte), 120, 0.03).type).not.toBe("flat");
});

test("a section of the page of figures is written anew, and the others stay as they are", () => {
  const page = withSection(withSection("# Top\n\nWords.", "One", "a"), "Two", "b\n\n### Deeper\n\nc");
  expect(page).toBe("# Top\n\nWords.\n\n## One\n\na\n\n## Two\n\nb\n\n### Deeper\n\nc\n");
  expect(withSection(page, "One", "d")).toBe(page.replace("a\n\n## Two", "d\n\n## Two"));
});
