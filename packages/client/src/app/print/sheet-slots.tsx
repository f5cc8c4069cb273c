/** The slots of a match sheet on paper: two sides each, boxes for three games, and a captain's tick for each side. */
import { showDayPaper } from "../dates.ts";
import { leagueWords } from "../words/league.ts";
import { printWords } from "../words/print.ts";
import { strokesWords } from "../words/strokes.ts";
import { number, words } from "../words.ts";
import type { SheetSeat, SheetSlot, SheetSource } from "./match-sheet.ts";
import { nameOnPaper } from "./named-on-paper.ts";

const GAMES = [1, 2, 3] as const;

export interface SheetSlotsProps {
  readonly slots: readonly SheetSlot[];
  /** Heads of the two sides; empty to be written in. */
  readonly clubs: readonly [string, string];
}

export const SheetSlots = ({ slots, clubs }: SheetSlotsProps) => (
  <>
    {slots.map((slot) => (
      <OneSlot key={slot.number} slot={slot} clubs={clubs} />
    ))}
  </>
);

function OneSlot({ slot, clubs }: { readonly slot: SheetSlot; readonly clubs: readonly [string, string] }) {
  const { sheet } = printWords;
  const handicapPlay = slot.play === "handicap";
  return (
    <section class="msheet-slot paper-keep">
      <h3>{sheet.slot(slot.number, leagueWords.slotKind(slot))}</h3>
      <table>
        <thead>
          <tr>
            <th scope="col">{sheet.player}</th>
            <th scope="col" class="msheet-off">
              {words.handicap}
            </th>
            <th scope="col" class="msheet-extra">
              {sheet.extra}
            </th>
            {GAMES.map((game) => (
              <th key={game} scope="col" class="msheet-score">
                {sheet.game(game)}
              </th>
            ))}
            <th scope="col" class="msheet-tick">
              {sheet.agreed}
            </th>
          </tr>
        </thead>
        <tbody>
          {([0, 1] as const).flatMap((side) =>
            slot.sides[side].map((seat, at) => (
              <tr key={`${side} ${String(at)}`} class={at === 0 ? "msheet-side" : ""}>
                <td>
                  <span class="msheet-club">{clubs[side]}</span>
                  <span class="msheet-name">{seat.player === null ? "" : nameOnPaper(seat.player)}</span>
                </td>
                <td class="msheet-off">
                  <Off seat={seat} />
                </td>
                <td class="msheet-extra">{handicapPlay ? extraIn(slot, side, at) : sheet.level}</td>
                {at === 0 && (
                  <>
                    {GAMES.map((game) => (
                      <td key={game} class="msheet-score" rowSpan={slot.sides[side].length} />
                    ))}
                    <td class="msheet-tick" rowSpan={slot.sides[side].length}>
                      <span class="msheet-box" />
                    </td>
                  </>
                )}
              </tr>
            )),
          )}
        </tbody>
      </table>
      <Ways slot={slot} clubs={clubs} />
    </section>
  );
}

function Off({ seat: { handicap, from, player } }: { readonly seat: SheetSeat }) {
  if (handicap === null) return player === null ? null : <span class="msheet-as-of">{printWords.sheet.askCard}</span>;
  return (
    <>
      <strong>{number(handicap)}</strong> <span class="msheet-as-of">{sourceWords(from)}</span>
    </>
  );
}

const sourceWords = (from: SheetSource): string =>
  from.type === "nobody" ? "" : printWords.sheet.from[from.type](showDayPaper(from.on));

/** The number where there is one way; where the pair has a choice it stays to be written. */
function extraIn({ ways }: SheetSlot, side: 0 | 1, seat: number): string {
  const [way] = ways ?? [];
  if (way === undefined || (ways?.length ?? 0) > 1) return "";
  const extra = way[side]?.[seat] ?? 0;
  return extra === 0 ? printWords.sheet.noExtra : String(extra);
}

function Ways({ slot, clubs }: { readonly slot: SheetSlot; readonly clubs: readonly [string, string] }) {
  const { sheet } = printWords;
  if (slot.play === "level") return null;
  if (slot.ways === null) return <p class="msheet-ways">{sheet.toWorkOut}</p>;
  const labels = slot.sides.map((side, at) =>
    side.map(({ player }) => (player === null ? (clubs[at] ?? "") : nameOnPaper(player))),
  );
  if (slot.ways.length === 1)
    return <p class="msheet-ways">{slot.ways.map((way) => strokesWords.receives(way, labels))}</p>;
  return (
    <div class="msheet-ways">
      <p>{sheet.tickOne}</p>
      <ul>
        {slot.ways.map((way) => (
          <li key={JSON.stringify(way)}>
            <span class="msheet-box" /> {strokesWords.receives(way, labels)}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** Where both captains put their names to it. */
export function Captains({ clubs }: { readonly clubs: readonly [string, string] }) {
  const { sheet } = printWords;
  return (
    <section class="paper-keep">
      <table class="msheet-captains">
        <thead>
          <tr>
            <th scope="col">{sheet.club}</th>
            <th scope="col" class="msheet-won">
              {sheet.won}
            </th>
            <th scope="col" class="msheet-name-here">
              {sheet.captain}
            </th>
            <th scope="col">{sheet.date}</th>
          </tr>
        </thead>
        <tbody>
          {clubs.map((club, at) => (
            <tr key={at === 0 ? "home" : "away"}>
              <td>{club}</td>
              <td />
              <td />
              <td />
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}
