/** The asking side: how its ask stands, from the answers that have come. */
import type { Answer, Welcome } from "./answer.ts";
import { openWelcome, readAnswer } from "./answer.ts";
import type { OwnAsk } from "./ask.ts";
import type { Invitation } from "./invitation.ts";

export type Standing =
  | { readonly type: "waiting" }
  | { readonly type: "welcome"; readonly welcome: Welcome }
  | { readonly type: "refused" }
  /** The invitation let another device in, or was withdrawn. */
  | { readonly type: "over"; readonly why: "used" | "withdrawn" };

/** @param texts all that lies in the room; what is no answer of the inviting device is passed over */
export async function standingOf(
  texts: readonly string[],
  invitation: Pick<Invitation, "from">,
  own: OwnAsk,
): Promise<Standing> {
  const answers: Answer[] = [];
  for (const text of texts) {
    const answer = await readAnswer(text, invitation, own.ask.invitation);
    if (answer.ok) answers.push(answer.value);
  }
  const { id } = own.ask;
  for (const answer of answers) {
    const opened = await openWelcome(answer, own);
    if (opened.ok) return { type: "welcome", welcome: opened.value };
  }
  if (answers.some(({ ask, says }) => says === "refused" && ask === id)) return { type: "refused" };
  if (answers.some(({ says }) => says === "welcome")) return { type: "over", why: "used" };
  if (answers.some(({ says }) => says === "withdrawn")) return { type: "over", why: "withdrawn" };
  return { type: "waiting" };
}
