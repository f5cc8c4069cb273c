/** The devices of a record, whose they are, and what each may do. */
import type { Device } from "@sward/core";
import type { Book } from "../../book/book.ts";
import { useDesk } from "../desk-store.ts";
import { deviceIn } from "../names.ts";
import { sharingWords } from "../words/sharing.ts";
import { words } from "../words.ts";

export function DeviceTable({ book }: { readonly book: Book }) {
  const { devices, name, as } = book.state();
  if (as === null) return null;
  return (
    <div class="scroll-x">
      <table class="devices-table">
        <caption>{name}</caption>
        <thead>
          <tr>
            <th scope="col">{sharingWords.device}</th>
            <th scope="col">{sharingWords.office}</th>
            <th scope="col" class="number">
              {sharingWords.counted}
            </th>
          </tr>
        </thead>
        <tbody>
          {[...devices.values()].map((device) => (
            <tr key={device.device}>
              <th scope="row">
                <Whose device={device} book={book} />
              </th>
              <td>
                {words.office[device.barred ? "barred" : device.role]}
                <span class="quiet small device-may">{sharingWords.may[device.barred ? "barred" : device.role]}</span>
                {device.forkedAt !== null && <strong class="device-may">{sharingWords.forked}</strong>}
              </td>
              <td class="number">{device.counted}</td>
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}

interface WhoseProps {
  readonly device: Device;
  readonly book: Book;
}

/** A root key is no person's device: it is the club or the league itself. */
function Whose({ device: { device, role, club }, book }: WhoseProps) {
  const desk = useDesk();
  const { as, clubs } = book.state();
  const of = club === null ? undefined : clubs.get(club)?.name;
  if (role === "root") return <>{of ?? (as === "league" ? sharingWords.leagueKey : words.office.root)}</>;
  return (
    <>
      {deviceIn(desk, device)}
      {of !== undefined && `, ${of}`}
      {device === book.device && <strong> ({words.thisDevice})</strong>}
    </>
  );
}
