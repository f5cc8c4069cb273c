/** What can be done about one device, at the end of its line: bar it, or why not. */
import { useState } from "preact/hooks";
import { useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { deviceIn } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { barringWords } from "../words/barring.ts";
import { barringHere } from "./bar-plan.ts";
import type { DeviceActionsProps } from "./devices-section.tsx";

const BarDialog = lazyPart(() => import("./bar-dialog.tsx"), "BarDialog");

export function DeviceActions({ book, device }: DeviceActionsProps) {
  const desk = useDesk();
  const [open, setOpen] = useState(false);
  const here = barringHere(book, device.device);
  const name = deviceIn(desk, device.device);
  if (here !== "may" && here !== "words") return <span class="quiet small">{barringWords.whyNot[here]}</span>;
  return (
    <>
      <Button aria-label={barringWords.bar(name)} onClick={() => setOpen(true)}>
        {barringWords.barShort}
      </Button>
      {open && (
        <BarDialog book={book} device={device} name={name} byWords={here === "words"} onClose={() => setOpen(false)} />
      )}
    </>
  );
}
