/** Placeholder: the screen takes its place. */
export const AttentionScreen = () => <p>Attention</p>;
