/** What undoing a link gives back, before it is undone. */
import type { BookState, Draft, PlayerId } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Refused } from "../parts/refused.tsx";
import { places, useHref } from "../place.ts";
import { save, saved } from "../saved.ts";
import { visitorWords } from "../words/visitors.ts";
import { words } from "../words.ts";
import { Changes } from "./changes.tsx";
import type { LinkPreview } from "./link-preview.ts";
import { previewOf } from "./link-preview.ts";
import type { StandingLink } from "./links-of.ts";
import { knownAs } from "./visited-desk.ts";
import { wouldBe } from "./would-be.ts";

interface UnlinkDialogProps {
  readonly link: StandingLink;
  /** Whose page this is. */
  readonly person: PlayerId;
  readonly onClose: () => void;
}

export function UnlinkDialog({ link, person, onClose }: UnlinkDialogProps) {
  const desk = useDesk();
  const href = useHref();
  const { route } = useLocation();
  const [answer, setAnswer] = useState<{ preview: LinkPreview; after: BookState } | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const { links, preview } = visitorWords;
  const draft: Draft = { kind: "entry-withdrawn", body: { withdraws: link.entry, reason: links.undoReason } };

  useEffect(() => {
    const timer = setTimeout(() => {
      const after = wouldBe(desk.club, [draft]);
      setAnswer({ preview: previewOf(desk.club.state(), after, link.player), after });
    }, 0);
    return () => clearTimeout(timer);
  }, []);

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const told = await save(desk.club, [draft], links.undone);
    setRefused(told);
    if (told !== null) return;
    // Taking back is final: to have the link again it is made again.
    saved.value = { sentence: links.undone, undo: null };
    onClose();
    // The id this page has may have come with the link.
    const here = knownAs(answer?.after ?? desk.club.state(), person);
    if (here === null) route(href(places.member(link.player)), true);
  };
  return (
    <Dialog title={links.undoTitle} onClose={onClose}>
      <form noValidate onSubmit={(event) => void submit(event)}>
        <p>{links.undoMeans}</p>
        <div class="visitor-preview" aria-live="polite">
          {answer === null ? <p>{preview.working}</p> : <Changes preview={answer.preview} after={answer.after} />}
        </div>
        <Refused message={refused} />
        <div class="row">
          <Button look="main" type="submit" disabled={answer === null}>
            {links.undo}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
        </div>
      </form>
    </Dialog>
  );
}
