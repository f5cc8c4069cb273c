/** Hands a text to the browser as a file to keep. */
export function offerFile(text: string, name: string, type: "text/csv" | "application/json" | "text/html"): void {
  const url = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken it by the next turn; a second is for slow ones.
  setTimeout(() => URL.revokeObjectURL(url), 1_000);
}
