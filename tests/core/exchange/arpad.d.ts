// The library has no types of its own; only what the test uses.
declare module "arpad" {
  class Elo {
    constructor(kFactor?: number);
    /** Expected score of `rating` against `opponent`, on the usual scale of base 10 and 400 points. */
    expectedScore(rating: number, opponent: number): number;
  }
  export = Elo;
}
