/** A visitor's results as a slip for the home club: as codes from screen to screen, or as a file. */

import type { PlayerId } from "@sward/core";
import { useState } from "preact/hooks";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { parcelOfSlip, reportsToSend, writeSlip } from "../../record/slip.ts";
import { useDesk } from "../desk-store.ts";
import { ShowParcel } from "../invite/show-parcel.tsx";
import "../invite/invite.css";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { slipWords } from "../words/slips.ts";

export function SlipOut({ player }: { readonly player: PlayerId }) {
  const { club, today } = useDesk();
  const [from, setFrom] = useState("");
  const [made, setMade] = useState<{ readonly parcel: Uint8Array; readonly results: number } | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const words = slipWords.out;
  const make = (event: Event): void => {
    event.preventDefault();
    const reports = reportsToSend(club, player, from === "" ? {} : { from });
    const slip = writeSlip(club, reports);
    setRefused(slip.ok ? null : messageOf(slip.fault));
    setMade(slip.ok ? { parcel: parcelOfSlip(slip.value), results: reports.length } : null);
  };
  return (
    <section class="no-print" aria-labelledby="slip-out">
      <h2 id="slip-out">{words.title}</h2>
      <p>{words.lead}</p>
      <form onSubmit={make} noValidate>
        <Field label={words.from}>
          {(control) => (
            <input {...control} type="date" value={from} onInput={(event) => setFrom(event.currentTarget.value)} />
          )}
        </Field>
        <Refused message={refused} />
        <Button type="submit">{words.make}</Button>
      </form>
      <p role="status">{made === null ? "" : words.has(made.results)}</p>
      {made !== null && <ShowParcel parcel={made.parcel} fileName={words.fileName(today())} />}
    </section>
  );
}
