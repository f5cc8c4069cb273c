/** What people read where somebody is given a name. */

export const nameWords = {
  name: "Name",
  nameHint: "First and last name, as on the card.",
  missing: "Write the name: games are entered by it.",
  short: "Short name",
  shortHint: "Where space is short, and outside the club. Left empty, it is made from the name.",
  junior: "Under eighteen",
} as const;
