/**
 * Shares with their ranges, one below the other, against one half: a bar with ends for the range, a diamond for what was seen. Drawn
 * in ink, told apart by shape; the table beside it says the same in numbers, and so does the label.
 */
import { scrollable, useSize } from "../parts/use-size.ts";
import { percent, reviewWords } from "../words/review.ts";
import type { ShareRow } from "./club-review.ts";

export interface ShareChartProps {
  readonly rows: readonly ShareRow[];
  /** All of it in words. */
  readonly label: string;
  readonly axis: string;
}

const ROW = 62;
const TOP = 30;
const BOTTOM = 54;
const SIDE = 26;
const TICKS = [0, 0.25, 0.5, 0.75, 1] as const;

export function ShareChart({ rows, label, axis }: ShareChartProps) {
  const [box, size] = useSize(680, 320);
  const { width, scale } = size;
  const shown = rows.filter(({ share }) => share !== null);
  const bottom = (TOP + shown.length * ROW) * scale;
  const height = bottom + BOTTOM * scale;
  const x = (share: number): number => round((SIDE + share * (width / scale - 2 * SIDE)) * scale);
  return (
    <figure class="review-chart" ref={box} {...scrollable(size)}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        <line class="review-half" x1={x(0.5)} x2={x(0.5)} y1={TOP * scale - 6} y2={bottom} />
        <text class="review-text" x={x(0.5)} y={18 * scale} text-anchor="middle">
          {reviewWords.fairness.half}
        </text>
        {shown.map((row, place) => (
          <Row key={row.label} row={row} top={(TOP + place * ROW) * scale} scale={scale} x={x} />
        ))}
        <line class="review-axis" x1={x(0)} x2={x(1)} y1={bottom} y2={bottom} />
        {TICKS.map((tick) => (
          <g key={tick}>
            <line class="review-axis" x1={x(tick)} x2={x(tick)} y1={bottom} y2={bottom + 6} />
            <text class="review-text" x={x(tick)} y={bottom + 24 * scale} text-anchor="middle">
              {percent(tick)}
            </text>
          </g>
        ))}
        <text class="review-text" x={x(0.5)} y={bottom + 46 * scale} text-anchor="middle">
          {axis}
        </text>
      </svg>
    </figure>
  );
}

interface RowProps {
  readonly row: ShareRow;
  readonly top: number;
  readonly scale: number;
  readonly x: (share: number) => number;
}

function Row({ row: { label, games, won, share, interval }, top, scale, x }: RowProps) {
  if (share === null || interval === null) return null;
  const middle = round(top + 42 * scale);
  const [low, high] = [x(interval.low), x(interval.high)];
  return (
    <g>
      <text class="review-text review-behind" x={x(0)} y={top + 20 * scale}>
        {reviewWords.chartRow(label, { games, won })}
      </text>
      <line class="review-range" x1={low} x2={high} y1={middle} y2={middle} />
      <line class="review-range" x1={low} x2={low} y1={middle - 7} y2={middle + 7} />
      <line class="review-range" x1={high} x2={high} y1={middle - 7} y2={middle + 7} />
      <path class="review-mark" d={`M${x(share)} ${middle - 9}l9 9-9 9-9-9z`} />
    </g>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;
