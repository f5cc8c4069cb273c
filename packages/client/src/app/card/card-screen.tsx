/** Placeholder: the screen takes its place. */
export const CardScreen = () => <p>Card</p>;
