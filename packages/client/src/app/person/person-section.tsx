/** A person's data: everything about the person as a file, and erasing the name. Below the card, or where there is none. */
import type { CardLine, PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import { readRound } from "../check/kept-round.ts";
import { showMoment } from "../dates.ts";
import { deviceName, isHandicapper, useDesk } from "../desk-store.ts";
import { offerFile } from "../files/offer-file.ts";
import { idsOf, rosterRecordOf, shortNameIn } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { whyWords } from "../words/changes.ts";
import { personWords } from "../words/person.ts";
import { aboutPage } from "./about-page.ts";
import { aboutPerson } from "./about-person.ts";
import { EraseDialog } from "./erase-dialog.tsx";

export function PersonSection({ player }: { readonly player: PlayerId }) {
  const desk = useDesk();
  const { club } = desk;
  const [erasing, setErasing] = useState(false);
  const [given, setGiven] = useState(false);
  const erasure = idsOf(desk, player)
    .map((id) => club.roster.erased(id))
    .find((one) => one !== undefined);
  const isNamed = rosterRecordOf(desk, player) !== undefined;

  const give = (): void => {
    const note = readRound(localStorage, club.device, club.id)?.notes[player] ?? null;
    const tell = (line: CardLine): string =>
      line.line === "set"
        ? whyWords(line)
        : `${line.opponents.map((one) => shortNameIn(desk, one.player)).join(", ")}, ${line.score.join("–")}: ${whyWords(line)}`;
    const about = aboutPerson(desk, { player, on: desk.today(), note, tell });
    offerFile(aboutPage(about), personWords.fileName(desk.today()), "text/html");
    setGiven(true);
  };

  return (
    <section class="no-print" aria-labelledby="person-data">
      <h2 id="person-data">{personWords.title}</h2>
      <p>{personWords.lead}</p>
      {erasure !== undefined && (
        <p role="status">
          <strong>{personWords.erased(showMoment(erasure.at), deviceName(erasure.by), erasure.reason)}</strong>
        </p>
      )}
      <p>
        <Button onClick={give}>{personWords.out}</Button>
      </p>
      <p class="quiet small">{personWords.outHint}</p>
      <p aria-live="polite">{given ? personWords.outDone : ""}</p>
      <p class="row">
        <Button look="danger" onClick={() => setErasing(true)} disabled={!isHandicapper.value || !isNamed}>
          {personWords.erase}
        </Button>
        {!isHandicapper.value && <span class="quiet small">{personWords.mayNotErase}</span>}
        {isHandicapper.value && !isNamed && <span class="quiet small">{personWords.nothing}</span>}
      </p>
      {erasing && <EraseDialog player={player} onClose={() => setErasing(false)} />}
    </section>
  );
}
