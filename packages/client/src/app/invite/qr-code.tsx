/** A QR code, dark on white in both schemes: many readers know no other. */
import { useMemo } from "preact/hooks";
import { codePlan } from "./code-plan.ts";
import "./invite.css";

export function QrCode({ text, label }: { readonly text: string; readonly label: string }) {
  const { size, path } = useMemo(() => codePlan(text), [text]);
  return (
    <svg class="invite-qr" viewBox={`0 0 ${size} ${size}`} role="img" aria-label={label} shape-rendering="crispEdges">
      <rect width={size} height={size} fill="#fff" />
      <path d={path} fill="#000" />
    </svg>
  );
}
