/** What each role may do in a club's record, and whether this device may. */
import type { Book } from "../../book/book.ts";
import { officeIn } from "../permission.ts";
import { devicesWords } from "../words/devices.ts";
import { words } from "../words.ts";
import { deeds, mayDo, rolesShown } from "./deeds.ts";
import "./devices.css";

export function RolesTable({ book }: { readonly book: Book }) {
  const own = officeIn(book);
  const said = devicesWords.roles;
  return (
    <details class="roles">
      <summary>{said.title}</summary>
      <p>{said.lead}</p>
      <table class="roles-table">
        <caption>{said.caption(words.office[own])}</caption>
        <thead>
          <tr>
            <th scope="col">{said.deed}</th>
            <th scope="col">{said.who}</th>
            <th scope="col">{said.yours}</th>
          </tr>
        </thead>
        <tbody>
          {deeds.map((deed) => (
            <tr key={deed.name}>
              <th scope="row">{devicesWords.deed[deed.name]}</th>
              <td>
                {rolesShown
                  .filter((role) => deed.may[role])
                  .map((role) => devicesWords.role[role])
                  .join(", ")}
              </td>
              <td class="role-mark">
                <span aria-hidden="true">{mayDo(deed, own) ? "✓ " : "– "}</span>
                {mayDo(deed, own) ? said.yes : said.no}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <p class="quiet">{said.own}</p>
    </details>
  );
}
