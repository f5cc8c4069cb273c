/** One player's review. */
import type { BookState, Card, PlayerCounts, PlayerId } from "@sward/core";
import { findRuleSet } from "@sward/core";
import "./review.css";
import { nameOf, useDesk } from "../desk-store.ts";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { reviewWords } from "../words/review.ts";
import { shareRow } from "./club-review.ts";
import { estimateFirst } from "./first-games.ts";
import { PaperHead, SeasonChoice } from "./season-choice.tsx";
import { chanceAgainst, chanceOfShare, chancesOf, FEWEST } from "./share.ts";
import { ShareChart } from "./share-chart.tsx";
import { ShareTable } from "./share-table.tsx";
import { reviewStrokes } from "./strokes-review.ts";
import { StrokesSection } from "./strokes-section.tsx";
import { trendOf } from "./trend.ts";
import { useReview } from "./use-review.ts";
import { expectationsOf } from "./watch.ts";
import { Estimate } from "./watch-section.tsx";

export function PlayerReviewScreen({ params, query }: ScreenProps) {
  const { season, seasons, counts } = useReview(query["season"]);
  const state = useDesk().club.state();
  const href = useHref();
  const player = knownAs(state, params["player"] as PlayerId);
  const words = reviewWords;
  if (player === undefined) {
    return (
      <Page title={words.title}>
        <p>{words.unknown}</p>
        <p>
          <a href={href(places.review)}>{words.toClub}</a>
        </p>
      </Page>
    );
  }
  const name = nameOf(player);
  const own = counts.players.get(player);
  const card = state.cards.get(player);
  const strokes = reviewStrokes(counts.strokes.filter((record) => record.player === player));
  return (
    <Page
      title={words.ofPlayer(name)}
      lead={card === undefined ? words.player.visitor : words.lead}
      actions={<SeasonChoice place={places.reviewOf(player)} season={season} seasons={seasons} />}
    >
      <p class="row no-print">
        {card !== undefined && <a href={href(places.member(player))}>{words.toCard(name)}</a>}
        <a href={href(places.review, { season })}>{words.toClub}</a>
      </p>
      <PaperHead season={season} player={name} />
      <SharesSection own={own} name={name} />
      <LevelPart own={own} />
      {card !== undefined && <TrendAndFirst card={card} />}
      <StrokesSection strokes={strokes} title={words.player.strokes} none={words.player.strokesNone} />
      <Prevail />
    </Page>
  );
}

function SharesSection({ own, name }: { readonly own: PlayerCounts | undefined; readonly name: string }) {
  const { player: words, fairness, columns, rangeMeans } = reviewWords;
  const rows =
    own === undefined
      ? []
      : (["all", "giving", "receiving", "even"] as const).map((which) =>
          shareRow(words.rows[which], which === "all" ? own.handicap : own[which]),
        );
  const [all] = rows;
  const said = rows.flatMap(({ label, games, won, share, interval }) =>
    share === null || interval === null ? [] : [fairness.row(label, { games, won }, share, interval)],
  );
  return (
    <section aria-labelledby="review-share" class="review-section">
      <h2 id="review-share">{words.share}</h2>
      {all === undefined || all.games === 0 ? (
        <p>{words.noGames}</p>
      ) : (
        <>
          <p class="review-says">{words.words(all, all.interval, all.standing)}</p>
          {all.games >= FEWEST && (
            <p>
              {words.chance(chanceOfShare(all))} {words.settles}
            </p>
          )}
          <ShareChart rows={rows} label={words.chart(name, said.join(" "))} axis={words.axis} />
          <ShareTable rows={rows} what={words.share} wonBy={columns.won} says={words.says} />
          <p class="quiet small">{rangeMeans}</p>
        </>
      )}
    </section>
  );
}

function LevelPart({ own }: { readonly own: PlayerCounts | undefined }) {
  const { player: words } = reviewWords;
  const expectations = own === undefined ? [] : expectationsOf(own, "level", findRuleSet);
  const expected = expectations.reduce((sum, each) => sum + each, 0);
  return (
    <section aria-labelledby="review-level" class="review-section">
      <h2 id="review-level">{words.level}</h2>
      {own === undefined || expectations.length === 0 ? (
        <p>{words.levelNone}</p>
      ) : (
        <p>{words.levelWords(own.level, expected, chanceAgainst(own.level.won, chancesOf(expectations)))}</p>
      )}
    </section>
  );
}

/** These two look at the card, whatever season is chosen. */
function TrendAndFirst({ card }: { readonly card: Card }) {
  const { player: words, newcomers } = reviewWords;
  const trend = trendOf(card, findRuleSet);
  const estimate = estimateFirst(card, findRuleSet);
  return (
    <>
      <section aria-labelledby="review-trend" class="review-section">
        <h2 id="review-trend">{words.trend}</h2>
        {trend === null ? (
          <p>{words.trendNone}</p>
        ) : (
          <p>
            {words.trendWords(trend)} {words.trendSays(trend)}
          </p>
        )}
        <p class="quiet small">{words.seasonless}</p>
      </section>
      {estimate !== null && (
        <section aria-labelledby="review-first" class="review-section">
          <h2 id="review-first">{words.first}</h2>
          <p>
            {nameOf(card.player)} <Estimate player={card.player} estimate={estimate} />
          </p>
          <p class="quiet small">{newcomers.lead}</p>
        </section>
      )}
    </>
  );
}

/** The person's own id, by any of his; undefined when the record has nobody of it. */
function knownAs({ players }: Pick<BookState, "players">, asked: PlayerId): PlayerId | undefined {
  if (players.has(asked)) return asked;
  return [...players.values()].find(({ alsoKnownAs }) => alsoKnownAs.includes(asked))?.player;
}
