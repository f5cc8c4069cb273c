/**
 * Text is sent compressed: a phone at the edge of a signal fetches a third of the bytes. Each file is compressed once, when it is
 * first asked for, and kept until it changes; the app is a few dozen files, so what is kept stays small. Rejected: compressing while
 * sending (the same work for every caller, and quick settings only), and files compressed by the build (a folder that holds each
 * file three times, two of which may be stale).
 */
import { promisify } from "node:util";
import { brotliCompress, constants, gzip } from "node:zlib";

export type Packing = "br" | "gzip";

export interface PackableFile {
  /** Absolute path, which with `changed` says whether two are the same. */
  readonly path: string;
  /** When it was last written, in milliseconds since 1970. */
  readonly changed: number;
  readonly bytes: Uint8Array;
}

/** Below this a compressed answer is hardly smaller, if at all. In bytes. */
const SMALLEST = 1000;

const packers: Readonly<Record<Packing, (bytes: Uint8Array) => Promise<Uint8Array>>> = {
  br: (bytes) =>
    promisify(brotliCompress)(bytes, {
      params: {
        [constants.BROTLI_PARAM_QUALITY]: constants.BROTLI_MAX_QUALITY,
        [constants.BROTLI_PARAM_SIZE_HINT]: bytes.length,
      },
    }),
  gzip: (bytes) => promisify(gzip)(bytes, { level: constants.Z_BEST_COMPRESSION }),
};

interface Packed {
  readonly changed: number;
  readonly bytes: Promise<Uint8Array>;
}
const kept = new Map<string, Packed>();

/** The packing to answer with, from a request's `accept-encoding` (RFC 9110, 12.5.3); null for none. */
export function packingFor(accepts: string | undefined): Packing | null {
  const weights = new Map<string, number>();
  for (const part of (accepts ?? "").toLowerCase().split(",")) {
    const [name = "", ...parameters] = part.split(";").map((text) => text.trim());
    const weight = parameters.find((text) => text.startsWith("q="))?.slice(2);
    weights.set(name, weight === undefined ? 1 : Number(weight) || 0);
  }
  const weigh = (name: Packing): number => weights.get(name) ?? weights.get("*") ?? 0;
  const best: Packing = weigh("br") >= weigh("gzip") ? "br" : "gzip";
  return weigh(best) > 0 ? best : null;
}

/** The file's bytes so packed, or null when that would not make it smaller. */
export async function pack(file: PackableFile, packing: Packing): Promise<Uint8Array | null> {
  if (file.bytes.length < SMALLEST) return null;
  const key = `${packing} ${file.path}`;
  const known = kept.get(key);
  const packed =
    known?.changed === file.changed ? known : { changed: file.changed, bytes: packers[packing](file.bytes) };
  kept.set(key, packed);
  const bytes = await packed.bytes;
  return bytes.length < file.bytes.length ? bytes : null;
}
