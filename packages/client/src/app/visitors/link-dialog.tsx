/** What a link would change, before it is saved; or why it cannot be. */
import type { BookState, Draft, LinkFault, Player } from "@sward/core";
import { playerCode } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { clubName } from "../entry/people.ts";
import { rosterRecordOf } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Notice } from "../parts/notice.tsx";
import { Refused } from "../parts/refused.tsx";
import { save } from "../saved.ts";
import { keyWords } from "../words/keys.ts";
import { visitorWords } from "../words/visitors.ts";
import { words } from "../words.ts";
import { Changes } from "./changes.tsx";
import type { LinkPreview } from "./link-preview.ts";
import { previewOf } from "./link-preview.ts";
import type { Chosen } from "./link-ways.tsx";
import { linkJudge } from "./links-of.ts";
import { homeNameOf } from "./stated.ts";
import { isSameClub } from "./suggestions.ts";
import { wouldBe } from "./would-be.ts";

interface LinkDialogProps {
  readonly visitor: Player;
  readonly chosen: Chosen;
  readonly onClose: () => void;
}

/** Worked out once, when the dialog opens: the record may go on changing behind it. */
interface Answer {
  readonly fault: Message | null;
  readonly preview: LinkPreview | null;
  readonly after: BookState | null;
}

export function LinkDialog({ visitor, chosen, onClose }: LinkDialogProps) {
  const desk = useDesk();
  const [answer, setAnswer] = useState<Answer | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const { preview: said } = visitorWords;
  const { to, record } = chosen;
  const body = { player: visitor.player, to };
  const draft: Draft = { kind: "player-linked", body };
  const own = nameOf(visitor.player);
  const name = rosterRecordOf(desk, to)?.name ?? said.unknown;

  const home = homeNameOf(desk, to) ?? record?.book ?? null;

  useEffect(() => {
    // After the dialog has been drawn: a large record takes a moment.
    const timer = setTimeout(async () => {
      const fault = linkJudge(desk)(body);
      if (fault !== null) {
        setAnswer({ fault: await messageFor(fault), preview: null, after: null });
        return;
      }
      const after = wouldBe(desk.club, [draft]);
      setAnswer({ fault: null, preview: previewOf(desk.club.state(), after, visitor.player), after });
    }, 0);
    return () => clearTimeout(timer);
  }, []);

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (answer?.preview == null) return;
    const told = await save(desk.club, [draft], said.saved(own, name, home));
    setRefused(told);
    if (told === null) onClose();
  };

  const entered = clubName(visitor.home, desk.leagues);
  return (
    <Dialog title={said.title(own, name, home)} onClose={onClose}>
      <form noValidate onSubmit={(event) => void submit(event)}>
        <p class="quiet small visitor-code-line">{said.known(playerCode(to))}</p>
        {record !== null && (
          <p>
            {said.from(record.book)} {record.named ? said.named : said.inCommon(record.matches)}
          </p>
        )}
        {entered !== null && home !== null && !isSameClub(entered, home) && (
          <Notice tone="warn" title={said.clubs(entered, home)} />
        )}
        <div class="visitor-preview" aria-live="polite">
          {answer === null && <p>{said.working}</p>}
          {answer?.preview != null && answer.after !== null && (
            <Changes preview={answer.preview} after={answer.after} />
          )}
        </div>
        <Refused message={answer?.fault ?? refused} />
        <div class="row">
          {answer?.fault == null && (
            <Button look="main" type="submit" disabled={answer === null}>
              {said.save}
            </Button>
          )}
          <Button onClick={onClose}>{words.cancel}</Button>
          <KeyHints keys={[["Esc", keyWords.backsOut]]} />
        </div>
      </form>
    </Dialog>
  );
}

const messageFor = async (fault: LinkFault): Promise<Message> => (await import("../../messages.ts")).messageOf(fault);
