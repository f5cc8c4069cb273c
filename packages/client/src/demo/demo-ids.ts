/**
 * Ids and keys of the demo clubs, derived from what the files call things, so that every device that opens the demo has the same
 * clubs and a link to one leads somewhere. Anybody can work these keys out: they guard nothing, and only the demo may have such.
 */
import type { EventId, FixtureId, PlayerId } from "@sward/core";
import { digestOf } from "@sward/core";
import { base64url } from "jose";
import type { DeviceRef } from "./world.ts";

/** One person has one key in every club's files; so has an event. */
export const demoPlayer = (key: string): PlayerId => shortId(`sward demo player ${key}`) as PlayerId;

export const demoEvent = (key: string): EventId => shortId(`sward demo event ${key}`) as EventId;

export const demoFixture = (key: string): FixtureId => shortId(`sward demo fixture ${key}`) as FixtureId;

/** Ed25519 seed of a device, 32 bytes. */
export const demoSeed = (device: DeviceRef): Uint8Array => bytesOf(`sward demo device ${device}`);

/** Secret of a club's or league's book, 32 bytes. */
export const demoSecret = (slug: string): Uint8Array => bytesOf(`sward demo book ${slug}`);

/** SHA-256 of the text. */
const bytesOf = (text: string): Uint8Array => base64url.decode(digestOf(text));

const shortId = (text: string): string => base64url.encode(bytesOf(text).subarray(0, 16));
