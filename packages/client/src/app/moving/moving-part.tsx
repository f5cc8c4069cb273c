/** On a member's card: where its lines before some day come from, and the record to take along to another club. */
import "./moving.css";
import type { Player, RecordTaking, TakenRecord } from "@sward/core";
import { useState } from "preact/hooks";
import { seedOf } from "../../desk/pass.ts";
import { systemClock } from "../../desk/platform.ts";
import { createSigner } from "../../keys/signer.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { writeRecordFile } from "../../record/write.ts";
import { showMoment } from "../dates.ts";
import { deviceName, keptPass, nameOf, useDesk } from "../desk-store.ts";
import { offerFile } from "../files/offer-file.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import { save } from "../saved.ts";
import { movingWords } from "../words/moving.ts";

export function MovingPart({ player }: { readonly player: Player }) {
  const records = useDesk().club.state().records.get(player.player) ?? [];
  return (
    <>
      {records.length > 0 && <Past records={records} />}
      <Leaving player={player} />
    </>
  );
}

function Past({ records }: { readonly records: readonly TakenRecord[] }) {
  const href = useHref();
  const words = movingWords.past;
  return (
    <section class="no-print" aria-labelledby="moving-past">
      <h2 id="moving-past">{words.title}</h2>
      {records.map((record) => (
        <PastRecord key={record.from} record={record} />
      ))}
      <p>
        <a href={href(places.moving)}>{words.again}</a>
      </p>
    </section>
  );
}

function PastRecord({ record }: { readonly record: TakenRecord }) {
  const words = movingWords.past;
  const { name, cutover, inUse, takings, signers, beyond } = record;
  return (
    <>
      <p>{inUse ? words.from(name, cutover) : name === "" ? words.waiting : words.older(name)}</p>
      {takings.map((taking) => (
        <Taking key={taking.entry} taking={taking} />
      ))}
      {beyond.length > 0 && (
        <p>
          <strong>{words.beyond(beyond.length)}</strong>
        </p>
      )}
      {signers.length > 0 && (
        <details>
          <summary>{words.signers}</summary>
          <ul class="moving-signers">
            {signers.map(({ key, role, counted, barred }) => (
              <li key={key}>{words.signer(key, role, counted, barred)}</li>
            ))}
          </ul>
        </details>
      )}
    </>
  );
}

function Taking({ taking }: { readonly taking: RecordTaking }) {
  const words = movingWords.past;
  const { at, by, entries, vouchedBy, standing, complete } = taking;
  return (
    <p class="quiet">
      {words.taken(showMoment(at), deviceName(by), entries)}{" "}
      {complete && (standing === "confirmed" ? words.vouched(vouchedBy) : <strong>{words.unconfirmed}</strong>)}
    </p>
  );
}

function Leaving({ player: { player, standing } }: { readonly player: Player }) {
  const desk = useDesk();
  const { club } = desk;
  const [on, setOn] = useState(desk.today());
  const [given, setGiven] = useState(false);
  const [refused, setRefused] = useState<Message | null>(null);
  const words = movingWords.leaving;
  const mayLeave = mayHere(club, "player-left") && standing === "member";

  const give = async (): Promise<void> => {
    const kept = keptPass.value;
    if (kept === null) return;
    const signer = await createSigner(seedOf(kept.pass));
    const written = await writeRecordFile(club, signer, { player, at: systemClock.timestamp() });
    setRefused(written.ok ? null : messageOf(written.fault));
    setGiven(written.ok);
    if (written.ok) offerFile(written.value.text, words.fileName(desk.today()), "application/json");
  };
  const leave = async (): Promise<void> => {
    const body = { player, on };
    const answer = await save(club, [{ kind: "player-left", body }], words.sentence(nameOf(player), on));
    setRefused(answer);
    if (answer === null) await give();
  };

  return (
    <section class="no-print" aria-labelledby="moving-leaving">
      <h2 id="moving-leaving">{words.title}</h2>
      <p>{words.lead}</p>
      {mayLeave && (
        <Field label={words.on}>
          {(control) => (
            <input {...control} type="date" value={on} onInput={(event) => setOn(event.currentTarget.value)} />
          )}
        </Field>
      )}
      <Refused message={refused} />
      <p class="row">
        {mayLeave && (
          <Button onClick={() => void leave()} disabled={on === ""}>
            {words.left}
          </Button>
        )}
        <Button onClick={() => void give()}>{words.only}</Button>
      </p>
      {!mayHere(club, "player-left") && <p class="quiet small">{words.mayNot}</p>}
      <p role="status">{given ? words.given : ""}</p>
    </section>
  );
}
