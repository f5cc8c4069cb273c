/** Placeholder: the screen takes its place. */
export const MembersScreen = () => <p>Members</p>;
