/**
 * Stand-ins for sealed envelopes, for tests of what carries them: the right first byte and length, and bytes told apart by a
 * number. Nothing that carries envelopes may look further than that.
 */
export function envelope(number: number, bytes = 60): Uint8Array {
  const made = new Uint8Array(bytes);
  let state = (number * 2654435761 + 12345) >>> 0;
  for (let at = 0; at < bytes; at += 1) {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    made[at] = state >>> 24;
  }
  new DataView(made.buffer).setUint32(17, number);
  made[0] = 1;
  return made;
}

/** The number an envelope was made with. */
export const numberOf = (made: Uint8Array): number => new DataView(made.buffer, made.byteOffset).getUint32(17);
