/** A member's code: read out, written on a slip, or shown to another club's device. */
import type { PlayerId } from "@sward/core";
import { playerCode } from "@sward/core";
import { nameOf } from "../desk-store.ts";
import { QrCode } from "../invite/qr-code.tsx";
import { visitorWords } from "../words/visitors.ts";

export function PlayerCode({ player }: { readonly player: PlayerId }) {
  const { code } = visitorWords;
  const text = playerCode(player);
  return (
    <details class="no-print visitor-own-code">
      <summary>{code.title}</summary>
      <p>{code.lead}</p>
      <p class="visitor-code-line">{text}</p>
      <QrCode text={text} label={code.label(nameOf(player))} />
    </details>
  );
}
