#!/usr/bin/env node
// Runs from source, so that it works straight after `npm install`, with no build to forget.
import { register } from "tsx/esm/api";

register();
await import("../src/command-line.ts");
