/**
 * How an ask and an answer travel: always sealed with the invitation's key, whichever way they go. As an envelope (`book/seal.ts`, with the
 * invitation's id in the place of the book's) in the meeting room at the relay; across the room with no network as text, which is also
 * what a file holds and what can be pasted; or as one QR code after another.
 *
 *     text    "sward-parcel-1:" ‖ base64url of the envelope
 *     codes   "SWARD1" ‖ place (2 digits, from 1) ‖ how many (2 digits) ‖ first 4 bytes of the envelope's SHA-256 in hexadecimal ‖ base 45
 *             of that part of the envelope: all in a QR code's alphanumeric set
 *
 * 400 bytes a code, since a phone reads larger ones badly off another's screen; who scans takes them in any order, as often as they come.
 */
import type { BookId, Result } from "@sward/core";
import { fail, ok } from "@sward/core";
import { base64url } from "jose";
import { openEnvelope, seal } from "../book/seal.ts";
import { decodeBase45, encodeBase45 } from "./base45.ts";
import type { InviteFault } from "./faults.ts";
import type { InvitationKeys } from "./invitation.ts";

type Sealing = Pick<InvitationKeys, "id" | "seal">;

const EPOCH = 0;
const PREFIX = "sward-parcel-1:";
const BYTES_PER_CODE = 400;
const MOST_CODES = 40;
/** A whole record may come along in a file. */
const LONGEST_TEXT = 32 * 1024 * 1024;

/** The envelope's form wants a book's id; what it binds is that a parcel opens under this invitation and no other. */
const bound = ({ id }: Sealing): BookId => id as BookId;

export const sealParcel = (
  keys: Sealing,
  message: string,
  randomBytes: (count: number) => Uint8Array,
): Promise<Uint8Array> => seal(bound(keys), { epoch: EPOCH, seal: keys.seal }, [message], randomBytes);

/** The message, or why it cannot be read. Never throws. */
export async function openParcel(keys: Sealing, parcel: Uint8Array): Promise<Result<string, InviteFault>> {
  const opened = await openEnvelope(bound(keys), (epoch) => (epoch === EPOCH ? keys : undefined), parcel);
  if (Array.isArray(opened)) {
    const [message, more] = opened as readonly string[];
    return message === undefined || more !== undefined ? fail({ type: "parcel-broken" }) : ok(message);
  }
  const sealedOtherwise = "type" in opened && opened.type === "sealed-otherwise";
  return fail({ type: sealedOtherwise ? "parcel-of-another-invitation" : "parcel-broken" });
}

export const textOfParcel = (parcel: Uint8Array): string => PREFIX + base64url.encode(parcel);

/** Breaks of lines that a letter put in do no harm. */
export function parcelOfText(text: string): Result<Uint8Array, InviteFault> {
  if (text.length > LONGEST_TEXT) return fail({ type: "parcel-broken" });
  const packed = text.replaceAll(/\s+/g, "");
  if (/^sward-parcel-[2-9]/.test(packed)) return fail({ type: "made-by-newer" });
  if (!packed.startsWith(PREFIX) || !/^[A-Za-z0-9_-]+$/.test(packed.slice(PREFIX.length))) {
    return fail({ type: "parcel-broken" });
  }
  try {
    return ok(base64url.decode(packed.slice(PREFIX.length)));
  } catch {
    return fail({ type: "parcel-broken" });
  }
}

const markOf = async (parcel: Uint8Array): Promise<string> =>
  [...new Uint8Array(await crypto.subtle.digest("SHA-256", parcel.slice())).slice(0, 4)]
    .map((byte) => byte.toString(16).padStart(2, "0"))
    .join("")
    .toUpperCase();

/** The texts of the codes to show one after another; null when it is too much for codes. */
export async function codesOfParcel(parcel: Uint8Array): Promise<readonly string[] | null> {
  const count = Math.max(1, Math.ceil(parcel.length / BYTES_PER_CODE));
  if (count > MOST_CODES) return null;
  const mark = await markOf(parcel);
  const two = (value: number) => String(value).padStart(2, "0");
  return Array.from({ length: count }, (_, at) => {
    const part = parcel.slice(at * BYTES_PER_CODE, (at + 1) * BYTES_PER_CODE);
    return `SWARD1${two(at + 1)}${two(count)}${mark}${encodeBase45(part)}`;
  });
}

export interface CodeCollector {
  /** Null: this was no code of ours. */
  take(
    code: string,
  ): Promise<{ readonly have: number; readonly of: number; readonly parcel: Uint8Array | null } | null>;
}

/** Puts codes together; those of another parcel begin anew, for somebody has turned to another screen. */
export function collectCodes(): CodeCollector {
  let of = 0;
  let mark = "";
  let parts = new Map<number, Uint8Array>();
  return {
    async take(code) {
      const [, place = "", count = "", its = "", rest = ""] =
        /^SWARD1(\d\d)(\d\d)([0-9A-F]{8})([0-9A-Z $%*+\-./:]{1,700})$/.exec(code) ?? [];
      const part = decodeBase45(rest);
      const [at, total] = [Number(place), Number(count)];
      if (its === "" || part === null || at < 1 || at > total || total > MOST_CODES) return null;
      if (its !== mark || total !== of) {
        parts = new Map();
        [mark, of] = [its, total];
      }
      parts.set(at, part);
      if (parts.size < of) return { have: parts.size, of, parcel: null };
      const parcel = Uint8Array.from([...parts].sort(([a], [b]) => a - b).flatMap(([, bytes]) => [...bytes]));
      if ((await markOf(parcel)) === mark) return { have: of, of, parcel };
      parts = new Map();
      return { have: 0, of, parcel: null };
    },
  };
}
