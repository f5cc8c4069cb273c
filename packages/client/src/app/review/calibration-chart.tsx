/**
 * Expected against seen: each band of handicap gaps is a letter at the share it was expected to win, across, and the share it won,
 * upwards, with its range. Along the dashed line both are the same.
 */
import { scrollable, useSize } from "../parts/use-size.ts";
import { percent, reviewWords } from "../words/review.ts";
import type { CalibrationBand } from "./level.ts";

export interface CalibrationChartProps {
  readonly bands: readonly CalibrationBand[];
  /** All of it in words. */
  readonly label: string;
}

/** How a band is called in chart and table. */
export const markOf = (place: number): string => "ABCDE".charAt(place);

const HEIGHT = 380;
const TOP = 34;
const BOTTOM = 58;
const LEFT = 58;
const RIGHT = 22;
/** The lower handicap is never expected to win fewer than half. */
const ACROSS = [0.5, 0.6, 0.7, 0.8, 0.9, 1] as const;
const UPWARDS = [0, 0.25, 0.5, 0.75, 1] as const;

export function CalibrationChart({ bands, label }: CalibrationChartProps) {
  const [box, size] = useSize(560, 320);
  const { width, scale } = size;
  const height = HEIGHT * scale;
  const right = width - RIGHT * scale;
  const [left, top, bottom] = [LEFT * scale, TOP * scale, height - BOTTOM * scale];
  const x = (expected: number): number => round(left + ((expected - 0.5) / 0.5) * (right - left));
  const y = (seen: number): number => round(bottom - seen * (bottom - top));
  const { across, upwards } = reviewWords.level;
  return (
    <figure class="review-chart" ref={box} {...scrollable(size)}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        <text class="review-text" x={0} y={18 * scale}>
          {upwards}
        </text>
        {UPWARDS.map((tick) => (
          <g key={tick}>
            <line class="review-grid" x1={left} x2={right} y1={y(tick)} y2={y(tick)} />
            <text class="review-text" x={left - 8} y={y(tick) + 5 * scale} text-anchor="end">
              {percent(tick)}
            </text>
          </g>
        ))}
        {ACROSS.map((tick) => (
          <g key={tick}>
            <line class="review-axis" x1={x(tick)} x2={x(tick)} y1={bottom} y2={bottom + 6} />
            <text class="review-text" x={x(tick)} y={bottom + 24 * scale} text-anchor="middle">
              {percent(tick)}
            </text>
          </g>
        ))}
        <text class="review-text" x={(left + right) / 2} y={bottom + 48 * scale} text-anchor="middle">
          {across}
        </text>
        <line class="review-axis" x1={left} x2={right} y1={bottom} y2={bottom} />
        <line class="review-half" x1={x(0.5)} x2={x(1)} y1={y(0.5)} y2={y(1)} />
        {bands.map(({ expected, observed, interval, from }, place) => {
          const cx = x(expected);
          return (
            <g key={from}>
              <line class="review-range" x1={cx} x2={cx} y1={y(interval.low)} y2={y(interval.high)} />
              <line class="review-range" x1={cx - 7} x2={cx + 7} y1={y(interval.low)} y2={y(interval.low)} />
              <line class="review-range" x1={cx - 7} x2={cx + 7} y1={y(interval.high)} y2={y(interval.high)} />
              <circle class="review-ring" cx={cx} cy={y(observed)} r={12 * scale} />
              <text class="review-text review-strong" x={cx} y={y(observed) + 5.5 * scale} text-anchor="middle">
                {markOf(place)}
              </text>
            </g>
          );
        })}
      </svg>
      <figcaption class="quiet small">
        {reviewWords.level.counts(bands.map(({ games }, place) => [markOf(place), games] as const))}
      </figcaption>
    </figure>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;
