/** Writes the reference of settings; run by `npm run relay:settings`. */
import { writeFileSync } from "node:fs";
import { settingsReference } from "./settings-reference.ts";

writeFileSync(new URL("../CONFIGURATION.md", import.meta.url), settingsReference());
