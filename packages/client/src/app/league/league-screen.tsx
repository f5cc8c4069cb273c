/** Placeholder: the screen takes its place. */
export const LeagueScreen = () => <p>League</p>;
