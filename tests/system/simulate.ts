/** One seed's story from the founding of the clubs to the judgement. */
import { attacks } from "./attacks.ts";
import { createByzantine } from "./byzantine.ts";
import type { SimDevice } from "./devices.ts";
import { actHonestly, barDevice, carryFile, look, writeName } from "./honest.ts";
import type { Weather } from "./network.ts";
import { isHealed, judge, judgeDocs } from "./oracle.ts";
import type { World } from "./world.ts";
import { createWorld, found } from "./world.ts";

export interface Story {
  readonly seed: string;
  readonly steps: number;
  readonly wrong: readonly string[];
  readonly happened: ReadonlyMap<string, number>;
  readonly events: number;
  /** Equal for two runs of one seed in which the same things happened at the same times. */
  readonly hash: number;
}

/** Simulated minutes for healing. */
const patience = 20;

export const hooks: { healed: (world: World) => void } = { healed: () => undefined };

/** `steps`: how many things happen, honest and not, before the weather clears. */
export async function simulate(seed: string, steps: number): Promise<Story> {
  const world = await createWorld(seed);
  await found(world);
  const byzantine = await createByzantine(world, attacks);
  // In every second story: a bar moves the whole club into another room.
  const barAt = world.dice.chance(50) ? world.dice.between(5, Math.ceil(steps * 0.6)) : Infinity;
  for (let step = 0; step < steps; step += 1) {
    // The root may be away just then.
    if (step >= barAt && !world.happened.counts().has("barred a device")) barDevice(world);
    await oneThing(world, byzantine);
    await world.schedule.pass(world.dice.between(100, 9_000));
    for (const what of judgeDocs(world)) world.problem(what);
    if (world.problems.length > 5) break;
  }
  byzantine.leave();
  await heal(world);
  hooks.healed(world);
  const wrong = [...world.problems, ...(await judge(world)), ...judgeDocs(world), ...byzantine.judge()];
  for (const relay of world.relays) wrong.push(...relay.faults);
  await close(world);
  for (const { refusals } of world.relays)
    for (const [type, times] of refusals) world.happened(`relay refused: ${type}`, times);
  const { events, hash } = world.schedule.trace();
  return { seed, steps, wrong, happened: world.happened.counts(), events, hash };
}

async function oneThing(world: World, byzantine: Awaited<ReturnType<typeof createByzantine>>): Promise<void> {
  const { dice, devices } = world;
  const device = dice.pick(devices);
  const throwOf = dice.below(100);
  if (throwOf < 50) actHonestly(world, device);
  else if (throwOf < 62) changeWeather(world);
  else if (throwOf < 72) await troubleDevice(world);
  else if (throwOf < 76) troubleRelay(world);
  else if (throwOf < 92) byzantine.attack();
  else if (throwOf < 94) look(world, device);
  else if (throwOf < 96) carryFile(world, device, dice.pick(devices));
  else writeName(world, device);
}

function changeWeather(world: World): void {
  const { dice, devices, relays, schedule } = world;
  const path = world.path(dice.pick(devices).name, dice.below(relays.length));
  const weather = dice.pick<Weather>(["fine", "lossy", "muddled", "slow", "cut", "cut"]);
  path.become(weather);
  if (weather === "cut") schedule.after(dice.between(2_000, 40_000), "breaks", () => path.breakAll());
  schedule.after(dice.between(5_000, 120_000), "clears", () => path.become("fine"));
}

async function troubleDevice(world: World): Promise<void> {
  const { dice, devices, schedule, happened } = world;
  const device = dice.pick(devices);
  const disks = dice.pick([...device.disks.values()]);
  const later = (name: string, run: () => void): void => {
    schedule.after(dice.between(500, 60_000), `${device.name} ${name}`, run);
  };
  switch (dice.below(10)) {
    case 0:
    case 1:
      device.crash();
      if (dice.chance(30)) dice.pick([disks.ledger, ...disks.volumes.values(), disks.roster]).wipe();
      // Not the roster: a name that is damaged on its way is not yet put right by those who have it whole.
      if (dice.chance(30)) dice.pick([disks.ledger, ...disks.volumes.values()]).damage();
      return later("starts", device.start);
    case 2:
      return device.stop(() => {
        if (dice.chance(60)) device.moveTo(1 - device.relay());
        later("starts", device.start);
      });
    case 3:
      device.desk()?.goOffline();
      happened("went offline");
      return later("goes online", () => device.desk()?.goOnline());
    case 4:
      disks.vault.fill(dice.between(1, 6));
      return later("has space", disks.vault.mend);
    case 5:
      disks.vault.breakNext();
      return later("restarts", () => {
        device.crash();
        later("starts", device.start);
      });
    case 6:
      device.setSkew(dice.pick([-400, -40, -2, 2, 40, 4_000]) * 86_400_000);
      return;
    case 7:
      device.setSkew(0);
      return;
    case 8:
      return evict(world, device);
    default:
      // A moment's write is likely to be under way.
      actHonestly(world, device);
      await schedule.pass(dice.between(0, 60));
      device.crash();
      return later("starts", device.start);
  }
}

/** All that a device had is cleared away; only if others have it too, for else it would be lost in earnest. */
function evict(world: World, device: SimDevice): void {
  const isElsewhere = [...device.disks].every(([book, { vault }]) => {
    const others = world.devices.filter((other) => other !== device).flatMap(({ disks }) => disks.get(book) ?? []);
    const there = new Set(others.flatMap((other) => [...other.vault.ids()]));
    return [...vault.ids()].every((id) => there.has(id));
  });
  if (!isElsewhere) return;
  device.crash();
  device.evict();
  // A full disk on top of it is what tempts a device to begin its chain anew.
  if (world.dice.chance(30)) for (const { vault } of device.disks.values()) vault.fill(2);
  world.schedule.after(world.dice.between(500, 30_000), `${device.name} starts`, device.start);
}

function troubleRelay(world: World): void {
  const relay = world.dice.pick(world.relays);
  const kind = world.dice.below(3);
  if (kind === 0) relay.crash(world.dice.between(1_000, 60_000));
  else if (kind === 1) relay.wipe();
  else relay.fill(world.dice.between(1, 4));
}

/** Fine weather, everybody on and at one relay; then time. */
async function heal(world: World): Promise<void> {
  const { devices, newcomers, dice, schedule } = world;
  const relay = dice.below(2);
  for (const one of world.relays) one.fill(0);
  for (const device of devices) {
    for (const path of [0, 1].map((place) => world.path(device.name, place))) {
      path.become("fine");
      if (path.owesBreak()) path.breakAll();
    }
  }
  for (const device of devices) {
    device.setSkew(0);
    for (const { vault } of device.disks.values()) vault.mend();
    // Some are only put in reach again; those at the other relay, or whose disk gave up, have to be started anew.
    if (device.isOn() && device.relay() === relay && dice.chance(50)) device.desk()?.goOnline();
    else device.crash();
  }
  await schedule.pass(60_000);
  for (const device of devices) {
    // Somebody may have been started meanwhile by what was still to come.
    const isLost = [...device.disks.values()].some(({ vault }) => vault.isBroken());
    if (device.isOn() && (device.relay() !== relay || isLost)) device.crash();
    device.moveTo(relay);
    if (!device.isOn()) device.start();
  }
  for (const newcomer of newcomers) {
    newcomer.moveTo(relay);
    newcomer.start();
  }
  for (let minute = 0; minute < patience && !isHealed(world); minute += 1) await schedule.pass(60_000);
}

async function close(world: World): Promise<void> {
  const all = [...world.devices, ...world.newcomers];
  for (const device of all) device.stop(() => undefined);
  await world.schedule.pass(5_000);
  for (const device of all) device.crash();
}
