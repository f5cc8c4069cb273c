/** @sward/client/demo: the demo clubs' files as what their devices write. */
export { demoEvent, demoFixture, demoPlayer, demoSecret, demoSeed } from "./demo-ids.ts";
export type { DemoFault } from "./faults.ts";
export { demoPass, type PublishDeps, publishDemo } from "./publish-demo.ts";
export { readDemo } from "./read-demo.ts";
export { type SignedBook, type SignedDemo, signDemo } from "./sign-demo.ts";
export type {
  DemoBook,
  DemoDevice,
  DemoLeague,
  DemoPerson,
  DemoWorld,
  DeviceRef,
  Known,
  Says,
  Writing,
  WritingRef,
} from "./world.ts";
