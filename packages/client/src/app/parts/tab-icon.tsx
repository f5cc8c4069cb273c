/** Small drawings for the tabs, of what is on and around a lawn. Decoration only: the word stands beside it. */
const drawings = {
  /** A card with a flag on it. */
  attention: "M6 21V4h9l-2 3.5 2 3.5H6",
  /** Two heads. */
  members:
    "M8.5 11a3 3 0 1 0 0-6 3 3 0 0 0 0 6ZM3 20c0-4 2.5-6 5.5-6s5.5 2 5.5 6M16 11a2.5 2.5 0 1 0 0-5M17 14c2.5.3 4 2.4 4 6",
  /** A hoop with a ball in it. */
  entry: "M6 21V6a2 2 0 0 1 2-2h8a2 2 0 0 1 2 2v15M12 21a3 3 0 1 0 0-6 3 3 0 0 0 0 6Z",
  /** Two mallets crossed. */
  league: "M5 3l4 4M19 3l-4 4M7 5l11 15M17 5L6 20",
  /** A mallet and a stroke. */
  strokes: "M4 5h8v5H4zM8 10v11M15 17h6M18 14v6",
  /** Two arrows round. */
  sharing: "M4 10a8 8 0 0 1 14-4l2 2M20 4v4h-4M20 14a8 8 0 0 1-14 4l-2-2M4 20v-4h4",
} as const;

export type TabName = keyof typeof drawings;

export const TabIcon = ({ name }: { readonly name: TabName }) => (
  <svg class="tab-icon" viewBox="0 0 24 24" aria-hidden="true" focusable="false">
    <path
      d={drawings[name]}
      fill="none"
      stroke="currentColor"
      stroke-width="2"
      stroke-linecap="round"
      stroke-linejoin="round"
    />
  </svg>
);
