/**
 * Long work in steps: a generator that stops after each piece and hands over its result at the end. Who must not keep a screen
 * waiting lets others have their turn between two steps; everybody else has all of them done at once, which gives the same result
 * since it is the same code. Rejected: a second, asynchronous form of the work (the two would have to be held to each other), and
 * promises within core (whoever asks would have to wait for what is done in a microsecond).
 *
 * A step may ask for the SHA-256 of a long text, which a platform makes in a twentieth of the time a script takes, but never at once.
 * Who goes on without an answer has it made by the script.
 */

/** A text of whose UTF-8 the SHA-256 is wanted, made only for somebody who will answer. */
export type ToHash = () => string;

// biome-ignore lint/suspicious/noConfusingVoidType: a bare `yield` asks for nothing, and a bare `next` answers nothing.
export type Steps<T> = Generator<ToHash | void, T, Uint8Array | void>;

/** All steps at once. */
export function atOnce<T>(steps: Steps<T>): T {
  for (;;) {
    const step = steps.next();
    if (step.done === true) return step.value;
  }
}
