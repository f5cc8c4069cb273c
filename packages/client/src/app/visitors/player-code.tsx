/** A member's code: read out, written on a slip, or shown to another club's device. */
import type { PlayerId } from "@sward/core";
import { playerCode } from "@sward/core";
import { useState } from "preact/hooks";
import { nameOf } from "../desk-store.ts";
import { QrCode } from "../invite/qr-code.tsx";
import { visitorWords } from "../words/visitors.ts";

export function PlayerCode({ player }: { readonly player: PlayerId }) {
  /** Drawing the code takes as long as the rest of the card, and few ever ask for it. */
  const [open, setOpen] = useState(false);
  const { code } = visitorWords;
  const text = playerCode(player);
  return (
    <details class="no-print visitor-own-code" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{code.title}</summary>
      <p>{code.lead}</p>
      <p class="visitor-code-line">{text}</p>
      {open && <QrCode text={text} label={code.label(nameOf(player))} />}
    </details>
  );
}
