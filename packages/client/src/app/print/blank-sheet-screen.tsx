/** A match sheet with nobody on it yet, for a match of the club's own. */
import type { Format } from "@sward/core";
import { Page } from "../parts/page.tsx";
import { places } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { playWords } from "../words/play.ts";
import { printWords } from "../words/print.ts";
import { words } from "../words.ts";
import { blankSheet } from "./match-sheet.ts";
import { chosen, chosenNumber, useChoose } from "./options.ts";
import { Paper, PrintButton } from "./paper.tsx";
import { Pick } from "./pick.tsx";
import { Captains, SheetSlots } from "./sheet-slots.tsx";
import "./sheet.css";

const MANY = Array.from({ length: 13 }, (_, many) => [String(many), String(many)] as const);
const nobody = ["", ""] as const;

export function BlankSheetScreen({ query }: ScreenProps) {
  const choose = useChoose(places.printMatch, query);
  const singles = chosenNumber(query, "singles", { from: 0, to: 12, usual: 4 });
  const doubles = chosenNumber(query, "doubles", { from: 0, to: 12, usual: 1 });
  const play = chosen(query, "play", ["handicap", "level"]);
  const format = Number(chosen(query, "points", ["13", "7", "19"])) as Format;
  const { sheet } = printWords;
  return (
    <Page title={sheet.blankTitle} lead={sheet.blankLead} actions={<PrintButton />}>
      <div class="paper-options no-print">
        <Pick
          label={sheet.singles}
          value={String(singles)}
          options={MANY}
          onChoose={(many) => choose({ singles: many })}
        />
        <Pick
          label={sheet.doubles}
          value={String(doubles)}
          options={MANY}
          onChoose={(many) => choose({ doubles: many })}
        />
        <Pick
          label={sheet.play}
          value={play}
          options={[
            ["handicap", playWords.handicap],
            ["level", playWords.level],
          ]}
          onChoose={(next) => choose({ play: next })}
        />
        <Pick
          label={sheet.length}
          value={String(format)}
          options={["13", "7", "19"].map((one) => [one, words.points(Number(one))])}
          onChoose={(points) => choose({ points })}
        />
      </div>
      <Paper title={sheet.blankTitle} lead={sheet.writeIn}>
        <p class="msheet-write" />
        <SheetSlots slots={blankSheet({ singles, doubles, play, format })} clubs={nobody} />
        <Captains clubs={nobody} />
      </Paper>
    </Page>
  );
}
