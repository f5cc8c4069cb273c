/**
 * The browser that comes as a package from the npm registry: Chromium without a window, Linux on x64 only, an optional dependency
 * so that other machines install without it. About a year behind, so it is for tests only.
 *
 * Unpacked by us, once, into node_modules/.cache: the package's own unpacker writes to a temporary folder that all users of the
 * machine share, where a file left by another would be run as the browser. A minimal system (an image with Node and little
 * else) lacks libraries or fonts it needs, so those of the package are used where the system has none.
 */
import { execFile } from "node:child_process";
import { createReadStream, createWriteStream, existsSync } from "node:fs";
import { chmod, mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { join } from "node:path";
import { pipeline } from "node:stream/promises";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { brotliDecompress, createBrotliDecompress } from "node:zlib";

const run = promisify(execFile);
const modules = fileURLToPath(new URL("../../node_modules", import.meta.url));
const packed = join(modules, "@sparticuz", "chromium");

export interface PackagedBrowser {
  executablePath: string;
  /** Set for the browser besides the environment it is started from. */
  env: Record<string, string>;
}

/** Undefined when the package is not installed. @throws Error when it is, but cannot start on this system. */
export const packagedBrowser = async (): Promise<PackagedBrowser | undefined> => {
  if (!existsSync(join(packed, "bin", "chromium.br"))) return undefined;
  const { version } = createRequire(import.meta.url)(join(packed, "package.json")) as { version: string };
  const folder = join(modules, ".cache", "sward-browser", version);
  await mkdir(folder, { recursive: true });
  const executablePath = await unpackProgram(folder);
  const env = { ...(await libraries(executablePath, folder)), ...(await fonts(folder)) };
  return { executablePath, env };
};

/** About 2 s and 190 MB. The rename at the end means that a half-written file is never taken for a browser. */
const unpackProgram = async (folder: string): Promise<string> => {
  const target = join(folder, "chromium");
  if (existsSync(target)) return target;
  const partial = `${target}.${process.pid}`;
  try {
    await pipeline(
      createReadStream(join(packed, "bin", "chromium.br")),
      createBrotliDecompress(),
      createWriteStream(partial),
    );
    await chmod(partial, 0o755);
    await rename(partial, target);
  } finally {
    await rm(partial, { force: true });
  }
  return target;
};

const libraries = async (executablePath: string, folder: string): Promise<Record<string, string>> => {
  if ((await startFault(executablePath, {})) === null) return {};
  const own = join(await unpackTar("al2023.tar.br", folder), "lib");
  const env = { LD_LIBRARY_PATH: [own, process.env["LD_LIBRARY_PATH"]].filter(Boolean).join(":") };
  const fault = await startFault(executablePath, env);
  if (fault === null) return env;
  throw new Error(
    `The packaged browser does not start on this system: ${fault}\nDebian, Ubuntu: sudo apt-get install chromium`,
  );
};

const startFault = (executablePath: string, env: Record<string, string>): Promise<string | null> =>
  run(executablePath, ["--version"], { env: { ...process.env, ...env } }).then(
    () => null,
    (error: unknown) => String(error),
  );

/** Without any font pages load, but words take no room: nothing could be read from a picture, or clicked by its words. */
const fonts = async (folder: string): Promise<Record<string, string>> => {
  if (existsSync("/etc/fonts/fonts.conf") && existsSync("/usr/share/fonts")) return {};
  const own = await unpackTar("fonts.tar.br", folder);
  const configuration = join(own, "sward.conf");
  await writeFile(
    configuration,
    `<fontconfig><dir>${join(own, "fonts")}</dir><cachedir>${join(own, "cache")}</cachedir></fontconfig>\n`,
  );
  return { FONTCONFIG_FILE: configuration };
};

const unpackTar = async (name: string, folder: string): Promise<string> => {
  const target = join(folder, name.split(".")[0] ?? name);
  if (existsSync(target)) return target;
  const partial = `${target}.${process.pid}`;
  const tar = join(partial, "packed.tar");
  await mkdir(partial, { recursive: true });
  await writeFile(tar, await promisify(brotliDecompress)(await readFile(join(packed, "bin", name))));
  await run("tar", ["-xf", tar, "-C", partial]);
  await rm(tar);
  await rename(partial, target);
  return target;
};
