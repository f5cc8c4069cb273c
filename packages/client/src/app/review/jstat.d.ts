// The library has no types of its own; only what the review uses.
declare module "jstat" {
  interface Beta {
    /** Probability of at most x. */
    cdf(x: number, alpha: number, beta: number): number;
    /** The x that has probability p below it. */
    inv(p: number, alpha: number, beta: number): number;
  }
  const jstat: {
    readonly beta: Beta;
    readonly normal: { inv(p: number, mean: number, standardDeviation: number): number };
    /** Of a sample: divided by one less than its size. */
    covariance(one: readonly number[], other: readonly number[]): number;
    variance(values: readonly number[], sample: boolean): number;
  };
  export = jstat;
}
