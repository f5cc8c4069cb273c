/** A process that tells stories: takes a seed and a number of steps, gives back what came of it. */
import { createDice } from "./dice.ts";
import { loadDice, quickenCrypto } from "./quick-crypto.ts";
import { countCrypto } from "./quiet.ts";
import type { Story } from "./simulate.ts";
import { simulate } from "./simulate.ts";
import type { Telling } from "./tellers.ts";

quickenCrypto();
countCrypto();

process.on("message", ({ seed, steps }: Telling) => {
  const tell = (story: Story): void => void process.send?.(story);
  loadDice(createDice(`platform of ${seed}`));
  simulate(seed, steps).then(tell, (cause) => {
    const wrong = [String((cause as Error).stack ?? cause)];
    tell({ seed, steps, wrong, happened: new Map(), events: 0, hash: 0 });
  });
});
