/**
 * The code that both screens show before anybody is admitted: the same when nobody has put a key of his own between the two. Sixteen
 * digits in four groups, since digits are read out most safely, over everything that matters: the inviting device's key, the invitation,
 * and the asking device's keys and nonce.
 *
 * Somebody who has the link could make asks until one has the code of an honest one; with 53 bits and PBKDF2-SHA-256 of 100,000 rounds
 * for each try that is out of reach while an invitation lives. Rejected: words (another list to load, and dialects) and promising before
 * showing, which makes short codes safe and needs two more letters to and fro, across a lawn too.
 */
import type { Ask } from "./ask.ts";
import type { Invitation } from "./invitation.ts";

const ROUNDS = 100_000;
const DIGITS = 16;

/** Such as "4831 0927 5520 1846". */
export async function shortCode(
  { from }: Pick<Invitation, "from">,
  { invitation, key, box, nonce }: Pick<Ask, "invitation" | "key" | "box" | "nonce">,
): Promise<string> {
  const both = new TextEncoder().encode([from, invitation, key, box, nonce].join("\n"));
  const material = await crypto.subtle.importKey("raw", both, "PBKDF2", false, ["deriveBits"]);
  const salt = new TextEncoder().encode("sward short code 1");
  const bits = { name: "PBKDF2", hash: "SHA-256", salt, iterations: ROUNDS };
  const [high = 0, low = 0] = new Uint32Array(await crypto.subtle.deriveBits(bits, material, 64));
  const digits = ((BigInt(high) << 32n) | BigInt(low)) % 10n ** BigInt(DIGITS);
  return digits
    .toString()
    .padStart(DIGITS, "0")
    .replaceAll(/(\d{4})(?=\d)/g, "$1 ");
}
