#!/usr/bin/env node
// Runs from source, so that `npx sward …` works straight after `npm install`, with no build to forget.
import { register } from "tsx/esm/api";

register();
await import("../src/cli/main.ts");
