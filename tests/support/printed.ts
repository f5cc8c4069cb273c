/**
 * A page as it comes out of a printer, read back from the PDF: how many sheets, how large, the text of each, and where each piece of
 * text stands on its sheet, so that a test sees what is cut off at the edge of the paper.
 */
import type { Page } from "playwright-core";
import { getDocumentProxy } from "unpdf";

export interface PrintedSheet {
  /** Points, 72 to the inch. */
  readonly width: number;
  readonly height: number;
  /** All of its text, with single spaces. */
  readonly text: string;
  /** Pieces of text that do not stand wholly on the sheet. */
  readonly cut: readonly string[];
}

export async function printed(page: Page, format: "A4" | "A5"): Promise<readonly PrintedSheet[]> {
  await page.emulateMedia({ media: "print" });
  const bytes = await page.pdf({ format });
  await page.emulateMedia({ media: "screen" });
  const document = await getDocumentProxy(new Uint8Array(bytes));
  const sheets: PrintedSheet[] = [];
  for (let at = 1; at <= document.numPages; at += 1) {
    const sheet = await document.getPage(at);
    const { width, height } = sheet.getViewport({ scale: 1 });
    const { items } = await sheet.getTextContent();
    const pieces = items.flatMap((item) => ("str" in item && item.str.trim() !== "" ? [item] : []));
    const cut = pieces.filter(({ transform, width: long }) => {
      // Text that stands on end runs up the sheet: `transform` is [a, b, c, d, x, y].
      const [a = 0, b = 0, , , x = 0, y = 0] = transform as number[];
      const across = Math.abs(a) >= Math.abs(b);
      const [right, top] = across ? [x + long, y] : [x, y + long];
      return Math.min(x, right) < 0 || Math.max(x, right) > width || Math.min(y, top) < 0 || Math.max(y, top) > height;
    });
    sheets.push({
      width,
      height,
      text: plain(items.map((item) => ("str" in item ? `${item.str}${item.hasEOL ? " " : ""}` : "")).join("")),
      cut: cut.map(({ str }) => str),
    });
  }
  await document.destroy();
  return sheets;
}

const plain = (text: string): string => text.replace(/\s+/g, " ").trim();
