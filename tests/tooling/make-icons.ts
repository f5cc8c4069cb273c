/** Draws the PNG icons from icon.svg after that was changed: node --import tsx tests/tooling/make-icons.ts */
import { readFile, writeFile } from "node:fs/promises";
import { launch } from "../support/browser.ts";

const folder = new URL("../../packages/client/public/", import.meta.url);
const svg = await readFile(new URL("icon.svg", folder), "utf8");
const browser = await launch();
for (const size of [192, 512]) {
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  await page.setContent(`<style>body{margin:0}svg{display:block}</style>${svg}`);
  await writeFile(new URL(`icon-${size}.png`, folder), await page.screenshot());
}
await browser.close();
