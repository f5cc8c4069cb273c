/** Players to look at, and what newcomers' first games speak for: evidence and estimates, for the handicapper's eyes. */
import type { PlayerId } from "@sward/core";
import { handicapInForce } from "@sward/core";
import { nameOf, useDesk } from "../desk-store.ts";
import { places, useHref } from "../place.ts";
import { reviewWords } from "../words/review.ts";
import { byName } from "./by-name.ts";
import type { ClubReview } from "./club-review.ts";
import type { FirstGamesEstimate } from "./first-games.ts";
import { estimateWords } from "./first-words.ts";
import type { Season } from "./season.ts";

export function WatchSection({ review, season }: { readonly review: ClubReview; readonly season: Season }) {
  const words = reviewWords.watch;
  const { watch } = review;
  return (
    <section aria-labelledby="review-watch" class="review-section">
      <h2 id="review-watch">{words.title}</h2>
      <p>{words.lead}</p>
      {watch.looks === 0 ? (
        <p>{words.tooFew}</p>
      ) : (
        <>
          <p>{words.byChance(watch)}</p>
          {watch.listed.length === 0 ? (
            <p>{words.nobody}</p>
          ) : (
            <ol class="review-list">
              {watch.listed.map((look) => (
                <li key={`${look.player} ${look.play}`}>
                  <PlayerLink player={look.player} season={season} /> {words.evidence(look)}.
                </li>
              ))}
            </ol>
          )}
        </>
      )}
    </section>
  );
}

export function NewcomersSection({ newcomers, season }: Pick<ClubReview, "newcomers"> & { readonly season: Season }) {
  const words = reviewWords.newcomers;
  return (
    <section aria-labelledby="review-newcomers" class="review-section">
      <h2 id="review-newcomers">{words.title}</h2>
      <p>{words.lead}</p>
      {newcomers.length === 0 ? (
        <p>{words.none}</p>
      ) : (
        <ul class="review-list">
          {byName(newcomers).map(({ player, estimate }) => (
            <li key={player}>
              <PlayerLink player={player} season={season} /> <Estimate player={player} estimate={estimate} />
            </li>
          ))}
        </ul>
      )}
    </section>
  );
}

/** What the first games say, and whether the handicap of today lies within it. */
export function Estimate({ player, estimate }: { readonly player: PlayerId; readonly estimate: FirstGamesEstimate }) {
  const desk = useDesk();
  const card = desk.club.state().cards.get(player);
  const now = card === undefined ? estimate.start : handicapInForce(card, desk.today()).handicap;
  return <>{estimateWords(estimate, now)}</>;
}

export function PlayerLink({ player, season }: { readonly player: PlayerId; readonly season: Season }) {
  const href = useHref();
  return <a href={href(places.reviewOf(player), { season })}>{nameOf(player)}</a>;
}
