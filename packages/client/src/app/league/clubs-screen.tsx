/** The clubs of a league: who is in, which of our players play in it, and letting a club or a device in. */
import type { BookId } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { useDesk } from "../desk-store.ts";
import { Badge } from "../parts/badge.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { officeIn } from "../permission.ts";
import type { ScreenProps } from "../screen-props.ts";
import { clubsWords as said } from "../words/league-join.ts";
import { clubLines } from "./clubs-view.ts";
import { EnterPlayers } from "./enter-players.tsx";
import { LeagueMissing } from "./league-missing.tsx";
import { ownClub } from "./slots.ts";
import { TakeAsk } from "./take-ask.tsx";
import "./clubs.css";

export function LeagueClubsScreen({ params }: Pick<ScreenProps, "params">) {
  const league = useDesk().leagues.find(({ id }) => id === (params["book"] as BookId));
  return league === undefined || league.state().as === null ? (
    <LeagueMissing title={said.title} known={league !== undefined} />
  ) : (
    <ClubsOf league={league} />
  );
}

function ClubsOf({ league }: { readonly league: Book }) {
  const lines = clubLines(league.state());
  const own = ownClub(league);
  const office = officeIn(league);
  const isOfficer = office === "root" || office === "handicapper";
  return (
    <Page title={said.title} lead={league.state().name}>
      {lines.length === 0 ? (
        <Empty title={said.empty.title}>
          <p>{isOfficer ? said.empty.secretary : said.empty.others}</p>
        </Empty>
      ) : (
        <ul class="clubs-list">
          {lines.map(({ club, name, devices, players }) => (
            <li key={club}>
              <strong>{name}</strong> {club === own && <Badge>{said.ours}</Badge>}
              <span class="quiet small">
                {said.devices(devices)}, {said.players(players)}
              </span>
            </li>
          ))}
        </ul>
      )}
      {own !== null && <EnterPlayers league={league} />}
      {isOfficer && <TakeAsk league={league} ofClub={own !== null} />}
    </Page>
  );
}
