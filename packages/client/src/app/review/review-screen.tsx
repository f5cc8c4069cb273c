/** The review of the whole club. */
import { findRuleSet } from "@sward/core";
import "./review.css";
import { isHandicapper, useDesk } from "../desk-store.ts";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { reviewWords } from "../words/review.ts";
import { byName } from "./by-name.ts";
import type { ClubReview } from "./club-review.ts";
import { reviewClub } from "./club-review.ts";
import { FairnessSection } from "./fairness-section.tsx";
import { LevelSection } from "./level-section.tsx";
import type { Season } from "./season.ts";
import { PaperHead, SeasonChoice } from "./season-choice.tsx";
import { StrokesSection } from "./strokes-section.tsx";
import { useReview } from "./use-review.ts";
import { NewcomersSection, PlayerLink, WatchSection } from "./watch-section.tsx";

export function ReviewScreen({ query }: ScreenProps) {
  const { season, seasons, counts } = useReview(query["season"]);
  const state = useDesk().club.state();
  const words = reviewWords;
  if (seasons.length === 0) {
    return (
      <Page title={words.title} lead={words.lead}>
        <Empty title={words.empty.title}>
          <p>{words.empty.body}</p>
        </Empty>
      </Page>
    );
  }
  const review = reviewClub(state, counts, findRuleSet, words.fairness.band);
  return (
    <Page
      title={words.title}
      lead={words.lead}
      actions={<SeasonChoice place={places.review} season={season} seasons={seasons} />}
    >
      <PaperHead season={season} />
      <FairnessSection review={review} />
      <LevelSection level={review.level} />
      {isHandicapper.value ? (
        <>
          <WatchSection review={review} season={season} />
          <NewcomersSection newcomers={review.newcomers} season={season} />
        </>
      ) : (
        <section aria-labelledby="review-watch" class="review-section">
          <h2 id="review-watch">{words.watch.title}</h2>
          <p>{words.watch.notHere}</p>
        </section>
      )}
      <StrokesSection strokes={review.strokes} title={words.strokes.title} none={words.strokes.none} />
      <Everybody members={review.members} season={season} />
      <Prevail />
    </Page>
  );
}

function Everybody({ members, season }: Pick<ClubReview, "members"> & { readonly season: Season }) {
  const { everybody, columns } = reviewWords;
  if (members.length === 0) return null;
  return (
    <section aria-labelledby="review-everybody" class="review-section">
      <h2 id="review-everybody">{everybody.title}</h2>
      <p>{everybody.lead}</p>
      <table class="review-everybody">
        <thead>
          <tr>
            <th scope="col">{columns.player}</th>
            <th scope="col" class="number">
              {everybody.handicap}
            </th>
            <th scope="col" class="number">
              {everybody.level}
            </th>
          </tr>
        </thead>
        <tbody>
          {byName(members).map(({ player, handicap, level }) => (
            <tr key={player}>
              <th scope="row">
                <PlayerLink player={player} season={season} />
              </th>
              <td class="number">{everybody.wonOf(handicap)}</td>
              <td class="number">{everybody.wonOf(level)}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
