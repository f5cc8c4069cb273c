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

/** What is read of PDF.js's text items; its own types are not in the package. */
interface TextPiece {
  readonly str: string;
  /** [a, b, c, d, x, y]: where it stands and which way it runs. */
  readonly transform: readonly number[];
  readonly width: number;
  readonly hasEOL: boolean;
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
    const { items } = (await sheet.getTextContent()) as { readonly items: readonly (TextPiece | object)[] };
    const pieces = items.filter((item): item is TextPiece => "str" in item);
    const cut = pieces.filter(({ str, transform, width: long }) => {
      if (str.trim() === "") return false;
      const [a = 0, b = 0, , , x = 0, y = 0] = transform;
      // Text that stands on end runs up the sheet.
      const across = Math.abs(a) >= Math.abs(b);
      const [right, top] = across ? [x + long, y] : [x, y + long];
      return Math.min(x, right) < 0 || Math.max(x, right) > width || Math.min(y, top) < 0 || Math.max(y, top) > height;
    });
    sheets.push({
      width,
      height,
      text: plain(pieces.map(({ str, hasEOL }) => `${str}${hasEOL ? " " : ""}`).join("")),
      cut: cut.map(({ str }) => str),
    });
  }
  await document.destroy();
  return sheets;
}

const plain = (text: string): string => text.replace(/\s+/g, " ").trim();
