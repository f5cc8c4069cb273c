/** Which of the two questions over the page is open. */
import { signal } from "@preact/signals";

export const over = signal<"search" | "keys" | null>(null);
