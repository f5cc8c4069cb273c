/**
 * What is kept about one person as a page of its own: one file that opens anywhere without the app, prints, and carries the same as
 * JSON with every signature, so that it can be checked by a program. Nothing in it is run: the JSON is data, and every text is escaped.
 */
import { showDay, showMoment } from "../dates.ts";
import { personWords } from "../words/person.ts";
import { number } from "../words.ts";
import type { AboutPerson, BookAbout } from "./about-person.ts";

const says = personWords.page;

const escaped = (text: string): string => text.replace(/[&<>"']/g, (char) => `&#${char.codePointAt(0)};`);

const styles = `body{font:16px/1.5 Georgia,serif;max-width:60rem;margin:2rem auto;padding:0 1rem;color:#1b1b16;background:#fff}
table{border-collapse:collapse;width:100%;margin:.5rem 0}th,td{text-align:left;vertical-align:top;border-bottom:1px solid #999;padding:.25rem .5rem}
code{font-size:.8rem;overflow-wrap:anywhere}`;

export function aboutPage(about: AboutPerson): string {
  const parts = [
    `<h1>${escaped(says.title)}</h1>`,
    p(says.intro(about.on)),
    p(says.contact),
    `<p><code>${about.ids.map(escaped).join(" ")}</code></p>`,
    ...about.books.map(bookPart),
    `<h2>${escaped(says.note)}</h2>`,
    p(about.note ?? says.none),
    `<h2>${escaped(says.data)}</h2>`,
    // A "<" inside could end the element early.
    `<script type="application/json" id="data">${JSON.stringify(about).replaceAll("<", "\\u003c")}</script>`,
    `<details><summary>${escaped(says.data)}</summary><pre><code>${escaped(JSON.stringify(about, null, 1))}</code></pre></details>`,
  ];
  return `<!doctype html>\n<html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width"><title>${escaped(says.title)}</title><style>${styles}</style></head><body>\n${parts.join("\n")}\n</body></html>\n`;
}

const p = (text: string): string => `<p>${escaped(text)}</p>`;

const list = (lines: readonly string[]): string =>
  lines.length === 0 ? p(says.none) : `<ul>${lines.map((line) => `<li>${escaped(line)}</li>`).join("")}</ul>`;

function table(heads: readonly string[], rows: readonly (readonly string[])[]): string {
  if (rows.length === 0) return p(says.none);
  const head = heads.map((text) => `<th scope="col">${escaped(text)}</th>`).join("");
  const body = rows.map((row) => `<tr>${row.map((text) => `<td>${escaped(text)}</td>`).join("")}</tr>`).join("\n");
  return `<table><thead><tr>${head}</tr></thead><tbody>${body}</tbody></table>`;
}

function bookPart(book: BookAbout): string {
  const { card, stated } = book;
  const homeText = book.home === null ? [] : [`${says.home}: ${JSON.stringify(book.home)}`];
  return [
    `<h2>${escaped(says.record(book.name, book.as))}</h2>`,
    `<h3>${escaped(says.names)}</h3>`,
    table(
      [says.names, says.short, says.junior],
      book.names.map(({ name, short, junior }) => [name, short, junior === true ? says.yes : says.no]),
    ),
    ...book.erased.map(({ at, by, reason }) =>
      p(`${says.erased}: ${showMoment(at)}, ${by}: ${personWords.reasons[reason]}.`),
    ),
    list([...(book.standing === null ? [] : [`${says.standing}: ${book.standing}`]), ...homeText]),
    `<h3>${escaped(says.card)}</h3>`,
    ...(card === null ? [p(says.none)] : cardPart(card)),
    ...(stated === null ? [] : [p(says.stated(stated.handicap, stated.index, stated.on, stated.by))]),
    `<h3>${escaped(says.matches)}</h3>`,
    table(
      [says.date, says.sides, says.score, says.status, says.reports],
      book.matches.map((match) => [
        match.date === null ? "" : showDay(match.date),
        match.sides.map((side) => side.join(", ")).join(" – "),
        match.games.map(({ score, ended }) => `${score.join("–")}${ended === null ? "" : ` (${ended})`}`).join(", "),
        match.status,
        match.reports.map(({ by, at, says: what }) => `${by}, ${showMoment(at)}: ${what}`).join("; "),
      ]),
    ),
    `<h3>${escaped(says.devices)}</h3>`,
    list(book.devices.map((one) => says.device(one.name, one.role, one.barred, one.admittedBy, one.entries))),
    p(says.invitations),
    `<h3>${escaped(says.entries)}</h3>`,
    p(says.entriesHint),
    table(
      [says.kind, says.at, says.by, says.counts, says.says],
      book.entries.map(({ kind, at, by, counts, body }) => [kind, showMoment(at), by, counts, JSON.stringify(body)]),
    ),
  ].join("\n");
}

function cardPart(card: NonNullable<BookAbout["card"]>): readonly string[] {
  return [
    p(says.now(card.handicap, card.index)),
    table(
      [says.date, says.line, says.index, says.handicap],
      card.lines.map((line) => [showDay(line.date), line.told, number(line.index), number(line.handicap)]),
    ),
    `<h3>${escaped(says.signatures)}</h3>`,
    list(card.signatures.map(({ by, at, upto, standing }) => says.signature(by, showMoment(at), upto, standing))),
  ];
}
