/** Placeholder: the screen takes its place. */
export const EntryScreen = () => <p>Entry</p>;
