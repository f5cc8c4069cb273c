/** The app as it is served, and the page of the benches, each built into a folder. */
import { fileURLToPath } from "node:url";
import { build, mergeConfig } from "vite";
import appConfig from "../../../packages/client/vite.config.ts";

const client = new URL("../../../packages/client/", import.meta.url);

export async function buildApp(outDir: string): Promise<string> {
  process.env["NODE_ENV"] = "production";
  await build({
    configFile: fileURLToPath(new URL("vite.config.ts", client)),
    logLevel: "warn",
    build: { outDir },
  });
  return outDir;
}

/** As the app, but for what only the app has: its service worker and the way its scripts are parted. */
export async function buildPage(outDir: string): Promise<string> {
  process.env["NODE_ENV"] = "production";
  const { plugins = [], resolve, oxc, worker } = appConfig;
  const root = fileURLToPath(new URL("bench/", client));
  const kept = plugins.filter((one) => !(one && "name" in one && one.name === "sward-service-worker"));
  await build(
    mergeConfig(
      { plugins: kept, resolve, oxc, worker },
      {
        configFile: false,
        root,
        publicDir: false,
        logLevel: "warn",
        build: {
          outDir,
          emptyOutDir: true,
          target: "es2023",
          rolldownOptions: { input: fileURLToPath(new URL("bench/browser-page.html", client)) },
        },
      },
    ),
  );
  return outDir;
}
