/** Members, results and cards as files. */
import type { PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import type { Desk } from "../../desk/desk.ts";
import { useDesk } from "../desk-store.ts";
import { rosterRecordOf } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { places, useHref } from "../place.ts";
import { filesWords } from "../words/files.ts";
import { words as common } from "../words.ts";
import type { ExportSource, Labels, Sheet, SheetName } from "./export.ts";
import { cardsSheet, createLabels, membersSheet, resultsSheet } from "./export.ts";
import { sheetCsv, sheetJson } from "./export-text.ts";
import { offerFile } from "./offer-file.ts";

const sheets: Readonly<Record<SheetName, (source: ExportSource, labels: Labels) => Sheet>> = {
  members: membersSheet,
  results: resultsSheet,
  cards: cardsSheet,
};
const names = Object.keys(sheets) as readonly SheetName[];

export function OutSection() {
  const desk = useDesk();
  const href = useHref();
  const [inFull, setInFull] = useState(false);
  const [told, setTold] = useState("");
  const words = filesWords.out;
  const write = (which: SheetName, as: "csv" | "json"): void => {
    const source = sourceAt(desk);
    const sheet = sheets[which](source, createLabels(source, inFull));
    const club = desk.club.state().name;
    const name = `${plain(club)}-${which}-${desk.today()}.${as}`;
    if (as === "csv") offerFile(sheetCsv(sheet), name, "text/csv");
    else offerFile(sheetJson(sheet, { club, on: desk.today() }), name, "application/json");
    setTold(words.written(name, sheet.rows.length));
  };
  return (
    <section aria-labelledby="files-out">
      <h2 id="files-out">{words.title}</h2>
      <p class="quiet">{words.lead}</p>
      <ul class="files-sheets">
        {names.map((which) => {
          const [title, what] = words.sheets[which];
          return (
            <li key={which}>
              <p>
                <strong>{title}</strong>: <span class="quiet">{what}</span>
              </p>
              <div class="row">
                <Button onClick={() => write(which, "csv")}>{words.csv(title)}</Button>
                <Button onClick={() => write(which, "json")}>{words.json(title)}</Button>
              </div>
            </li>
          );
        })}
      </ul>
      <label class="choice">
        <input
          type="checkbox"
          checked={inFull}
          aria-describedby="files-juniors-hint"
          onChange={(event) => setInFull(event.currentTarget.checked)}
        />
        {words.juniors}
      </label>
      <p class="quiet small" id="files-juniors-hint">
        {words.juniorsHint}
      </p>
      <p role="status">{told}</p>
      <p>
        {words.record} <a href={href(places.sharing)}>{words.recordLink}</a>.
      </p>
    </section>
  );
}

const sourceAt = (desk: Desk): ExportSource => ({
  state: desk.club.state(),
  today: desk.today(),
  unnamed: common.nameUnknown,
  named(player: PlayerId) {
    const record = rosterRecordOf(desk, player);
    return record === undefined ? null : { ...record, junior: record.junior === true };
  },
});

/** A club's name as part of a file's. */
const plain = (name: string): string =>
  name
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-|-$/g, "")
    .toLowerCase() || "club";
