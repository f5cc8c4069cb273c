/** Which of the club's members play in the league: entered there with their names, so that teams and matches can name them. */
import type { Draft, PlayerId } from "@sward/core";
import { byCodeUnits } from "@sward/core";
import { useState } from "preact/hooks";
import type { Book } from "../../book/book.ts";
import type { Message } from "../../messages.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Refused } from "../parts/refused.tsx";
import { mayHere } from "../permission.ts";
import { playersWords as said } from "../words/league-join.ts";
import { enteredName, notEntered } from "./clubs-view.ts";
import { saveChecked } from "./reading-here.ts";

export function EnterPlayers({ league }: { readonly league: Book }) {
  const { club, today } = useDesk();
  const [chosen, setChosen] = useState<ReadonlySet<PlayerId>>(new Set());
  const [refused, setRefused] = useState<Message | null>(null);
  const named = notEntered(club.state(), league.state())
    .flatMap((player) => {
      const record = club.roster.get(player);
      return record === undefined ? [] : [{ player, record }];
    })
    .sort((a, b) => byCodeUnits(a.record.name, b.record.name) || byCodeUnits(a.player, b.player));
  const wanted = named.filter(({ player }) => chosen.has(player));
  const mayEnter = mayHere(league, "player-joined", { standing: "visitor" });

  const enter = async (event: Event): Promise<void> => {
    event.preventDefault();
    if (wanted.length === 0) return;
    const drafts = wanted.map(
      ({ player }): Draft => ({
        kind: "player-joined",
        body: { player, standing: "visitor", home: { book: club.id } },
      }),
    );
    const answer = await saveChecked(league, drafts, said.saved(wanted.length), today());
    setRefused(answer);
    if (answer !== null) return;
    await league.roster.write(new Map(wanted.map(({ player, record }) => [player, enteredName(record)])));
    setChosen(new Set());
  };
  return (
    <section class="clubs-take">
      <h2>{said.title}</h2>
      <p>{said.lead}</p>
      {!mayEnter ? (
        <p class="quiet">{said.readsOnly}</p>
      ) : named.length === 0 ? (
        <p>{said.all}</p>
      ) : (
        <form noValidate onSubmit={(event) => void enter(event)}>
          <fieldset class="clubs-members">
            <legend class="unseen">{said.title}</legend>
            {named.map(({ player, record }) => (
              <label class="choice" key={player}>
                <input
                  type="checkbox"
                  checked={chosen.has(player)}
                  onChange={({ currentTarget }) => {
                    const next = new Set(chosen);
                    if (currentTarget.checked) next.add(player);
                    else next.delete(player);
                    setChosen(next);
                  }}
                />
                <span>
                  {record.name}
                  {record.junior === true && <span class="quiet small"> ({said.junior(record.short)})</span>}
                </span>
              </label>
            ))}
          </fieldset>
          <Refused message={refused} />
          <div class="row">
            <Button look="main" type="submit" disabled={wanted.length === 0}>
              {said.enter(wanted.length)}
            </Button>
            <Button look="quiet" onClick={() => setChosen(new Set(named.map(({ player }) => player)))}>
              {said.everybody}
            </Button>
          </div>
        </form>
      )}
    </section>
  );
}
