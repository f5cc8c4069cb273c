/**
 * Ed25519 (RFC 8032): the platform's own where it has it, which takes a tenth of the time and runs beside the page; else a library,
 * fetched only then (`curves-in-script.ts`). Whether the platform has it is found out by asking it, once.
 *
 * Rejected: the library alone (a club's first start would take minutes on a phone), and the platform alone (a phone that no longer
 * gets a new browser could not take part, and phones like that are what clubs keep in the pavilion).
 */
/** The signature, 64 bytes, of a message. */
export type Sign = (message: Uint8Array<ArrayBuffer>) => Promise<Uint8Array>;

/** Whether it is the signature of the message. */
export type Check = (signature: Uint8Array<ArrayBuffer>, message: Uint8Array<ArrayBuffer>) => Promise<boolean>;

export interface Ed25519 {
  /** @param seed 32 bytes @returns with `x`, the public key, base64url */
  signing(seed: Uint8Array): Promise<{ readonly x: string; readonly sign: Sign }>;
  /** @param x the public key, base64url. Rejects when it can be no key. */
  checking(x: string): Promise<Check>;
}

/** PKCS #8 (RFC 8410) of an Ed25519 seed: this prefix, then the 32 bytes. */
const pkcs8Prefix = Uint8Array.of(0x30, 0x2e, 2, 1, 0, 0x30, 5, 6, 3, 0x2b, 0x65, 0x70, 4, 0x22, 4, 0x20);

export const platformEd25519: Ed25519 = {
  async signing(seed) {
    const pkcs8 = Uint8Array.from([...pkcs8Prefix, ...seed]);
    const key = await crypto.subtle.importKey("pkcs8", pkcs8, "Ed25519", true, ["sign"]);
    const { x = "" } = await crypto.subtle.exportKey("jwk", key);
    return { x, sign: async (message) => new Uint8Array(await crypto.subtle.sign("Ed25519", key, message)) };
  },
  async checking(x) {
    const key = await crypto.subtle.importKey("jwk", { kty: "OKP", crv: "Ed25519", x }, "Ed25519", false, ["verify"]);
    return (signature, message) => crypto.subtle.verify("Ed25519", key, signature, message);
  },
};

let here: Promise<Ed25519> | null = null;

/** What this platform signs and checks with. */
export function ed25519Here(): Promise<Ed25519> {
  here ??= platformEd25519.signing(new Uint8Array(32)).then(
    () => platformEd25519,
    async () => (await import("./curves-in-script.ts")).scriptEd25519,
  );
  return here;
}
