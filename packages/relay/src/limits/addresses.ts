/**
 * What one address may do: how many connections it has, and how often it dials or asks for a nonce. A club house is one address for all
 * its members, so the limits are generous; they are there for a machine that goes mad, not for people.
 *
 * Of an IPv6 address the first 64 bits count, which is what one household gets. Addresses are forgotten as soon as nothing is left to
 * remember of them, so that a sender of made-up ones fills no memory: what is kept is bounded by the limit of connections and by `most`.
 */
import type { Allowance } from "./allowance.ts";
import { createAllowance } from "./allowance.ts";

export interface AddressLimits {
  readonly connections: number;
  /** Dials and nonces together: at once, and a minute. */
  readonly dials: number;
}

export interface Addresses {
  /** Whether this address may dial or ask now. */
  mayDial(address: string): boolean;
  /** Null: it has too many already. Else a release, to be called once. */
  enter(address: string): (() => void) | null;
  /** Addresses remembered. */
  readonly size: number;
}

/** How many addresses that only dialled are remembered. */
const most = 10_000;

export function createAddresses({ connections, dials }: AddressLimits, now: () => number): Addresses {
  const inside = new Map<string, number>();
  const dialled = new Map<string, Allowance>();
  return {
    mayDial(address) {
      const who = household(address);
      const allowance = dialled.get(who) ?? createAllowance(dials, dials / 60);
      // The one that dialled longest ago goes first.
      dialled.delete(who);
      dialled.set(who, allowance);
      for (const [oldest] of dialled) {
        if (dialled.size <= most) break;
        dialled.delete(oldest);
      }
      return allowance.take(1, now()) === 0;
    },
    enter(address) {
      const who = household(address);
      const many = inside.get(who) ?? 0;
      if (many >= connections) return null;
      inside.set(who, many + 1);
      let released = false;
      return () => {
        if (released) return;
        released = true;
        const left = (inside.get(who) ?? 1) - 1;
        if (left === 0) inside.delete(who);
        else inside.set(who, left);
      };
    },
    get size() {
      return inside.size + dialled.size;
    },
  };
}

/** IPv4 in IPv6 is IPv4; of IPv6 the first four groups. */
export function household(address: string): string {
  const plain = address.replace(/^::ffff:(?=\d+\.\d+\.\d+\.\d+$)/, "");
  if (!plain.includes(":")) return plain;
  const [head = "", tail = ""] = plain.split("%")[0]?.split("::") ?? [];
  const left = head === "" ? [] : head.split(":");
  const right = tail === "" ? [] : tail.split(":");
  const groups = plain.includes("::")
    ? [...left, ...Array.from({ length: Math.max(0, 8 - left.length - right.length) }, () => "0"), ...right]
    : left;
  return groups
    .slice(0, 4)
    .map((group) => group.toLowerCase().replace(/^0+(?=.)/, ""))
    .join(":");
}

/**
 * Whom a request comes from. Behind `proxies` proxies of ours the address is the one that the outermost of them wrote: the caller can put
 * anything before it, so it is counted from the end.
 */
export function addressOf(remote: string | undefined, forwarded: string | undefined, proxies: number): string {
  if (proxies === 0 || forwarded === undefined) return remote ?? "";
  const written = forwarded.split(",").map((part) => part.trim());
  return written[written.length - proxies] ?? written[0] ?? remote ?? "";
}
