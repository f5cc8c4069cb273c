/**
 * The devices of a record: whose each is, what it may do, when and by whom it was admitted, when it was last heard of. What can be
 * done about one is handed in (`actions`) and stands at the end of its line.
 */
import type { Device } from "@sward/core";
import type { AnyComponent } from "preact";
import { useMemo } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import { showMoment } from "../dates.ts";
import { deviceName, useDesk, version } from "../desk-store.ts";
import { deviceIn } from "../names.ts";
import { devicesWords } from "../words/devices.ts";
import { sharingWords } from "../words/sharing.ts";
import { words } from "../words.ts";
import type { DeviceLine } from "./device-lines.ts";
import { deviceLines } from "./device-lines.ts";
import { rootTold } from "./root-told.ts";
import "./devices.css";

export interface DeviceActionsProps {
  readonly book: Book;
  readonly device: Device;
}

export interface DevicesSectionProps {
  readonly book: Book;
  /** Drawn in each line; null where nothing can be done about any device. */
  readonly actions: AnyComponent<DeviceActionsProps> | null;
}

export function DevicesSection({ book, actions: Actions }: DevicesSectionProps) {
  const state = book.state();
  const lines = useMemo(() => deviceLines(state, book.counted()), [book, version.value]);
  if (state.as === null) return null;
  return (
    <table class="devices-table">
      <caption>{state.name}</caption>
      <thead>
        <tr>
          <th scope="col">{devicesWords.device}</th>
          <th scope="col">{devicesWords.office}</th>
          <th scope="col">{devicesWords.admitted}</th>
          <th scope="col">{devicesWords.heard}</th>
          {Actions !== null && <th scope="col">{devicesWords.actions}</th>}
        </tr>
      </thead>
      <tbody>
        {lines.map((line) => (
          <tr key={line.device.device} class={line.device.barred ? "device-barred" : ""}>
            <th scope="row">
              <Whose device={line.device} book={book} />
            </th>
            <td>
              <Office device={line.device} />
            </td>
            <td>
              <span class="device-label">{devicesWords.admitted}: </span>
              {admittedTold(book, line)}
            </td>
            <td>
              <span class="device-label">{devicesWords.heard}: </span>
              {line.heardAt === null
                ? devicesWords.heardNothing
                : devicesWords.heardAt(showMoment(line.heardAt), line.device.counted)}
            </td>
            {Actions !== null && (
              <td>
                <Actions book={book} device={line.device} />
              </td>
            )}
          </tr>
        ))}
      </tbody>
    </table>
  );
}

function Office({ device }: { readonly device: Device }) {
  const office = device.barred ? "barred" : device.role;
  return (
    <>
      {words.office[office]}
      <span class="quiet small device-may">{sharingWords.may[office]}</span>
      {device.forkedAt !== null && <strong class="device-may">{devicesWords.forked}</strong>}
    </>
  );
}

function admittedTold(book: Book, { device, admittedAt, heardAt }: DeviceLine): string {
  if (device.role === "root" && device.club === null) {
    return heardAt === null ? "" : devicesWords.openedAt(showMoment(admittedAt ?? heardAt));
  }
  if (admittedAt === null) return devicesWords.byUnknown;
  return devicesWords.admittedBy(
    showMoment(admittedAt),
    rootTold(book, device.admittedBy) ?? deviceName(device.admittedBy),
  );
}

interface WhoseProps {
  readonly device: Device;
  readonly book: Book;
}

function Whose({ device: { device, club }, book }: WhoseProps) {
  const desk = useDesk();
  const root = rootTold(book, device);
  if (root !== null) return <>{root}</>;
  const of = club === null ? undefined : book.state().clubs.get(club)?.name;
  return (
    <>
      {deviceIn(desk, device)}
      {of !== undefined && `, ${of}`}
      {device === book.device && <strong> ({words.thisDevice})</strong>}
    </>
  );
}
