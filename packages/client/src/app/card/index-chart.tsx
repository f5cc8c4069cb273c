/**
 * The chart of a card, drawn at its real size so that its text is as large as all other text. Legible without colour: dots,
 * rings with a number, diamonds, and lines that differ by their dashes.
 */
import type { ComponentChildren, TargetedPointerEvent } from "preact";
import { useState } from "preact/hooks";
import { onDay, showDay } from "../dates.ts";
import { scrollable, useSize } from "../parts/use-size.ts";
import { cardWords } from "../words/card.ts";
import { number, words } from "../words.ts";
import { labelled } from "./chart-labels.ts";
import type { ChartPlan, ChartPoint } from "./chart-plan.ts";
import { keyedChanges } from "./chart-plan.ts";

export interface IndexChartProps {
  readonly plan: ChartPlan;
  readonly name: string;
  /** Drawn this wide whatever the room, for paper; measured when absent. */
  readonly paperWidth?: number;
}

const HEIGHT = 300;
const TOP = 36;
const BOTTOM = 34;
const LEFT = 52;
const RIGHT = 48;
/** Half a mark, so that the first and the last do not stand on the axis. */
const INSET = 18;

export function IndexChart({ plan, name, paperWidth }: IndexChartProps) {
  const [box, size] = useSize(Number.POSITIVE_INFINITY, 320);
  const scale = paperWidth === undefined ? size.scale : 1;
  const width = paperWidth ?? size.width;
  const height = HEIGHT * scale;
  const indexes = plan.points.map(({ index }) => index);
  const changes = plan.points.filter(({ became }) => became !== null).length - 1;
  const label = cardWords.chart.label(
    name,
    Math.min(...indexes),
    Math.max(...indexes),
    indexes.at(-1) ?? 0,
    Math.max(0, changes),
  );
  return (
    <figure class="chart" ref={box} {...(paperWidth === undefined ? scrollable(size) : {})}>
      <svg viewBox={`0 0 ${width} ${height}`} width={width} height={height} role="img" aria-label={label}>
        <g transform={`scale(${scale})`}>
          <Drawing plan={plan} width={width / scale} />
        </g>
      </svg>
      <figcaption class="quiet small">{cardWords.chart.legend}</figcaption>
    </figure>
  );
}

function Drawing({ plan, width }: { readonly plan: ChartPlan; readonly width: number }) {
  const right = width - RIGHT;
  const bottom = HEIGHT - BOTTOM;
  const x = (days: number): number => LEFT + INSET + (days / plan.days) * (right - LEFT - 2 * INSET);
  const y = (index: number): number => TOP + ((plan.high - index) / (plan.high - plan.low)) * (bottom - TOP);
  const placed = plan.points.map((point): Placed => ({ point, cx: round(x(point.x)), cy: round(y(point.index)) }));
  const line = `M${placed.map(({ cx, cy }) => `${cx},${cy}`).join("L")}`;
  const ticks = width < 480 ? plan.ticks.filter((_, place) => place % 2 === 0) : plan.ticks;
  return (
    <>
      {plan.triggers.map(({ handicap, trigger, next }) => (
        <line
          key={handicap}
          class={next ? "chart-next" : "chart-trigger"}
          x1={LEFT}
          x2={right}
          y1={round(y(trigger))}
          y2={round(y(trigger))}
        />
      ))}
      {labelled(plan.triggers, y).map(({ handicap, trigger, next }) => (
        <g key={handicap}>
          <text class={next ? "chart-text chart-strong" : "chart-text"} x={right + 8} y={round(y(trigger)) + 5}>
            {number(handicap)}
          </text>
          <text class="chart-text" x={LEFT - 6} y={round(y(trigger)) + 5} text-anchor="end">
            {number(trigger)}
          </text>
        </g>
      ))}
      <text class="chart-text" x={0} y={16}>
        {words.index}
      </text>
      <text class="chart-text" x={width} y={16} text-anchor="end">
        {words.handicap}
      </text>
      <line class="chart-axis" x1={LEFT} x2={right} y1={bottom} y2={bottom} />
      {ticks.map(({ date, x: days }) => (
        <g key={date}>
          <line class="chart-axis" x1={round(x(days))} x2={round(x(days))} y1={bottom} y2={bottom + 6} />
          <text class="chart-text" x={round(x(days))} y={bottom + 26} text-anchor="middle">
            {showMonth(date)}
          </text>
        </g>
      ))}
      <path class="chart-line" d={line} />
      <Marks placed={placed}>
        <path class="chart-dots" d={dots(placed)} />
        {keyedChanges(placed).map(({ key, one, became }) => (
          <Change key={key} {...one} became={became} />
        ))}
      </Marks>
    </>
  );
}

interface Placed {
  readonly point: ChartPoint;
  readonly cx: number;
  readonly cy: number;
}

function saidOf({ date, index, became }: ChartPoint): string {
  const said = `${showDay(date)}: ${words.index} ${number(index)}`;
  return became === null ? said : `${said}, ${words.handicap} ${number(became)}`;
}

/**
 * Days with games, all in one line of round ends: a dot for each of ten years' days takes a phone a tenth of a second whenever a game
 * moves them.
 */
const dots = (placed: readonly Placed[]): string =>
  placed.flatMap(({ point, cx, cy }) => (point.became === null ? [`M${cx},${cy}h.01`] : [])).join("");

interface MarksProps {
  readonly placed: readonly Placed[];
  readonly children: ComponentChildren;
}

/** The mark that is pointed at says what it is; to have written down beforehand what each would say takes as long as drawing them. */
function Marks({ placed, children }: MarksProps) {
  const [said, setSaid] = useState("");
  const point = ({ currentTarget, clientX, clientY }: TargetedPointerEvent<SVGGElement>): void => {
    const { x, y } = new DOMPoint(clientX, clientY).matrixTransform(currentTarget.getScreenCTM()?.inverse());
    const awayOf = ({ cx, cy }: Placed): number => Math.hypot(cx - x, cy - y);
    const nearest = placed.reduce<Placed | undefined>(
      (best, one) => (best === undefined || awayOf(one) < awayOf(best) ? one : best),
      undefined,
    );
    setSaid(nearest === undefined ? "" : saidOf(nearest.point));
  };
  return (
    <g onPointerMove={point}>
      <title>{said}</title>
      {children}
    </g>
  );
}

interface ChangeProps extends Placed {
  readonly became: number;
}

function Change({ point, became, cx, cy }: ChangeProps) {
  return (
    <g>
      {point.set ? (
        <path class="chart-ring" d={`M${cx} ${cy - 15}l15 15-15 15-15-15z`} />
      ) : (
        <circle class="chart-ring" cx={cx} cy={cy} r="12" />
      )}
      <text class="chart-text chart-strong" x={cx} y={cy + 5.5} text-anchor="middle">
        {number(became)}
      </text>
    </g>
  );
}

const round = (value: number): number => Math.round(value * 10) / 10;

const month = onDay({ month: "short" });
const year = onDay({ year: "numeric" });

/** The year stands in place of January. */
const showMonth = (date: string): string => (date.slice(5, 7) === "01" ? year : month)(date);
