/** Who a person is under other entries: the links there are, with the way to undo each, and for a visitor the ways to make one. */
import type { Player } from "@sward/core";
import { useState } from "preact/hooks";
import { showMoment } from "../dates.ts";
import { deviceName, useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { mayCorrectHere, mayHere, officeIn } from "../permission.ts";
import { changeWords } from "../words/changes.ts";
import { visitorWords } from "../words/visitors.ts";
import { words } from "../words.ts";
import { entryName } from "./entry-names.ts";
import { LinkWays } from "./link-ways.tsx";
import type { StandingLink } from "./links-of.ts";
import { linksOf } from "./links-of.ts";
import { UnlinkDialog } from "./unlink-dialog.tsx";

export function LinksSection({ person }: { readonly person: Player }) {
  const desk = useDesk();
  const [undoing, setUndoing] = useState<StandingLink | null>(null);
  const links = linksOf(desk, person.player);
  const visitor = person.standing === "visitor";
  const may = mayHere(desk.club, "player-linked");
  const said = visitorWords.links;
  if (!visitor && links.length === 0) return null;
  return (
    <section class="no-print" aria-labelledby="person-links">
      <h2 id="person-links">{visitor ? said.title : said.ownTitle}</h2>
      <p>{visitor ? said.lead : said.own}</p>
      {links.length === 0 ? (
        <p>
          <strong>{said.none}</strong>
        </p>
      ) : (
        <ul class="visitor-links">
          {links.map((link) => (
            <li key={link.entry}>
              <p>
                {said.linked(
                  entryName(desk, link.player),
                  entryName(desk, link.to),
                  deviceName(link.by),
                  showMoment(link.at),
                )}
              </p>
              <Button onClick={() => setUndoing(link)} disabled={!mayCorrectHere(desk.club, link.by)}>
                {said.undo}
              </Button>
            </li>
          ))}
        </ul>
      )}
      {!may && (
        <p class="quiet small">
          {said.mayNot} {changeWords.here(words.office[officeIn(desk.club)])}
        </p>
      )}
      {visitor && may && <LinkWays visitor={person} />}
      {undoing !== null && <UnlinkDialog link={undoing} person={person.player} onClose={() => setUndoing(null)} />}
    </section>
  );
}
