/** Placeholder: the screen takes its place. */
export const StrokesScreen = () => <p>Strokes</p>;
