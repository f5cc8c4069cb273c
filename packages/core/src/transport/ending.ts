/**
 * Why a relay ends a connection. Rejected: a HTTP status at the upgrade (a browser only sees close code 1006 and retries for ever).
 */

/** WebSocket close codes a relay sends. 44xx: trying again changes nothing, except after `staleToken`. */
export const closeCodes = {
  goingAway: 1001,
  tooLong: 1009,
  relayFault: 1011,
  tryLater: 1013,
  badMessage: 4400,
  staleToken: 4401,
  wrongToken: 4403,
  noSuchRoom: 4404,
} as const;

/** Whether a client that was closed with this code may dial again. */
export const mayRedial = (code: number): boolean =>
  code === closeCodes.staleToken || (code !== closeCodes.tooLong && (code < 4400 || code > 4499));
