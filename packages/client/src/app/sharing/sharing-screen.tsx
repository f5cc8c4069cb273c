/** Placeholder: the screen takes its place. */
export const SharingScreen = () => <p>Sharing</p>;
