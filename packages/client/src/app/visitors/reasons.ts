/** The reasons for a suggestion in words, and those against it. */
import { visitorWords } from "../words/visitors.ts";
import type { Suggestion } from "./suggestions.ts";

export function reasonsOf({ name, sameClub, matches }: Suggestion): readonly string[] {
  const { reasons } = visitorWords.links;
  return [
    reasons[name],
    ...(sameClub === null ? [] : [sameClub ? reasons.sameClub : reasons.otherClub]),
    ...(matches === 0 ? [] : [reasons.matches(matches)]),
  ];
}
