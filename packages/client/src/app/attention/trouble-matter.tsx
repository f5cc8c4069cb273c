/** Trouble of this device itself: what, why and what to do, with the next step beside it. */
import type { ComponentChildren } from "preact";
import { useDesk } from "../desk-store.ts";
import { Button, ButtonLink } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { StorageTold } from "../trouble/storage-told.tsx";
import { attentionWords } from "../words/attention.ts";
import { deviceWords } from "../words/attention-seldom.ts";
import { connectionTold, sharingWords } from "../words/sharing.ts";
import { troubleWords } from "../words/trouble.ts";
import { words } from "../words.ts";
import { MatterBox } from "./matter.tsx";
import type { TroubleMatter } from "./troubles.ts";

interface Told {
  readonly title: string;
  readonly body: ComponentChildren;
  readonly act: "try" | "reload";
}

export function TroubleView({ matter }: { readonly matter: TroubleMatter }) {
  const desk = useDesk();
  const href = useHref();
  const { title, body, act } = toldOf(matter);
  return (
    <MatterBox
      title={title}
      actions={
        <>
          {act === "try" ? (
            <Button look="main" onClick={() => desk.goOnline()}>
              {sharingWords.tryNow}
            </Button>
          ) : (
            <Button look="main" onClick={() => location.reload()}>
              {words.failed.reload}
            </Button>
          )}
          <ButtonLink href={href(places.sharing)}>{attentionWords.sharing}</ButtonLink>
        </>
      }
    >
      {body}
    </MatterBox>
  );
}

function toldOf(matter: TroubleMatter): Told {
  switch (matter.about) {
    case "storage-trouble":
      return {
        title: troubleWords.during[matter.trouble.during],
        act: "reload",
        body: <StorageTold cause={matter.trouble.cause} also={troubleWords.safe} />,
      };
    case "may-not-write":
      return matter.why === "not-caught-up"
        ? { title: words.behind.title, body: <p>{words.behind.body}</p>, act: "try" }
        : { title: deviceWords.usedElsewhere.title, body: <p>{deviceWords.usedElsewhere.body}</p>, act: "reload" };
    case "relay-refuses": {
      const { what, why, todo } = connectionTold(matter.connection);
      return {
        title: what,
        act: "try",
        body: (
          <p>
            {why} {todo}
          </p>
        ),
      };
    }
    case "not-met":
      return {
        title: deviceWords.notMet(matter.waiting, matter.days),
        body: <p>{deviceWords.notMetBody}</p>,
        act: "try",
      };
  }
}
