/** A text as the path of a QR code, to be drawn as SVG. Pure. */
import { encodeQR } from "qr";

export interface CodePlan {
  /** Modules across, with the quiet zone of four that ISO/IEC 18004 asks for. */
  readonly size: number;
  readonly path: string;
}

const QUIET = 4;

export function codePlan(text: string): CodePlan {
  const rows = encodeQR(text, "raw", { ecc: "medium", border: QUIET });
  let path = "";
  for (const [y, row] of rows.entries()) {
    for (let x = 0; x < row.length; x++) {
      if (row[x] !== true) continue;
      const from = x;
      while (row[x + 1] === true) x += 1;
      path += `M${from} ${y}h${x + 1 - from}v1h${from - x - 1}z`;
    }
  }
  return { size: rows.length, path };
}
