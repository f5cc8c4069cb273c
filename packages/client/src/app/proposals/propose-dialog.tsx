/** Proposing a change of handicap for somebody whose handicap this device does not set. */
import type { Player } from "@sward/core";
import { useState } from "preact/hooks";
import { saveInLeague } from "../../league/save.ts";
import type { Message } from "../../messages.ts";
import { messageOf } from "../../messages.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { rulesOnDay } from "../entry/rules-on.ts";
import { Button } from "../parts/button.tsx";
import { Dialog } from "../parts/dialog.tsx";
import { Field } from "../parts/field.tsx";
import { HandicapSelect } from "../parts/handicap-select.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { Refused } from "../parts/refused.tsx";
import { saved } from "../saved.ts";
import { homeNameOf } from "../visitors/stated.ts";
import { keyWords } from "../words/keys.ts";
import { proposalWords } from "../words/proposals.ts";
import { words } from "../words.ts";
import type { EvidenceGame } from "./evidence.ts";
import type { ProposeIn } from "./proposals-here.ts";
import type { ProposeFaults } from "./propose-form.ts";
import { gamesToOffer, proposeDraft, proposeFaults } from "./propose-form.ts";

export interface ProposeDialogProps {
  readonly person: Player;
  /** As far as this device knows. */
  readonly handicap: number;
  readonly where: readonly ProposeIn[];
  readonly onClose: () => void;
}

const MOST = 8;
const { propose: said } = proposalWords;

export function ProposeDialog({ person, handicap, where, onClose }: ProposeDialogProps) {
  const desk = useDesk();
  const today = desk.today();
  const [at, setAt] = useState(0);
  const [form, setForm] = useState({ handicap, on: today as string, reason: "", games: [] as readonly EvidenceGame[] });
  const [faults, setFaults] = useState<ProposeFaults | null>(null);
  const [refused, setRefused] = useState<Message | null>(null);
  const name = nameOf(person.player);
  const target = where[at];
  const book = target === undefined ? undefined : desk.books.get(target.book);
  const rules = rulesOnDay(book?.state() ?? desk.club.state(), today) ?? rulesOnDay(desk.club.state(), today);

  const submit = async (event: Event): Promise<void> => {
    event.preventDefault();
    const wrong = proposeFaults(form);
    setFaults(wrong);
    if (wrong !== null || target === undefined || book === undefined) return;
    const draft = proposeDraft(target.player, form);
    const told =
      book === desk.club
        ? await book.append([draft])
        : await saveInLeague(book, [draft], today).then((answer) =>
            answer.ok ? { ok: true as const, value: answer.value.ids } : answer,
          );
    setRefused(told.ok ? null : messageOf(told.fault));
    if (!told.ok) return;
    saved.value = { sentence: said.saved(name, form.handicap), undo: { book, entries: told.value } };
    onClose();
  };

  const take = (game: EvidenceGame, taken: boolean): void => {
    const others = form.games.filter(({ day, score }) => day !== game.day || score !== game.score);
    setForm({ ...form, games: taken ? [...others, { day: game.day, score: game.score }] : others });
  };

  const own = person.standing !== "visitor";
  return (
    <Dialog title={said.title(name)} onClose={onClose}>
      <form noValidate onSubmit={(event) => void submit(event)}>
        <p class="quiet">{own ? said.own : said.lead(homeNameOf(desk, person.player))}</p>
        {where.length > 1 && (
          <Field label={said.where}>
            {(control) => (
              <select {...control} value={at} onChange={(event) => setAt(Number(event.currentTarget.value))}>
                {where.map((one, place) => (
                  <option key={one.book} value={place}>
                    {one.name}
                  </option>
                ))}
              </select>
            )}
          </Field>
        )}
        <Field label={said.handicap}>
          {(control) => (
            <HandicapSelect
              control={control}
              rules={rules}
              value={form.handicap}
              choose={(chosen) => setForm({ ...form, handicap: chosen })}
            />
          )}
        </Field>
        <p aria-live="polite">{form.handicap === handicap ? said.same : ""}</p>
        <Field label={said.on} error={faults?.on}>
          {(control) => (
            <input
              {...control}
              type="date"
              value={form.on}
              onInput={(event) => setForm({ ...form, on: event.currentTarget.value })}
            />
          )}
        </Field>
        <Games person={person} chosen={form.games} take={take} />
        <Field label={said.reason} hint={said.reasonHint} error={faults?.reason}>
          {(control) => (
            <textarea
              {...control}
              rows={3}
              maxLength={200}
              value={form.reason}
              onInput={(event) => setForm({ ...form, reason: event.currentTarget.value })}
            />
          )}
        </Field>
        <Refused message={refused} />
        <div class="row">
          <Button look="main" type="submit">
            {said.save}
          </Button>
          <Button onClick={onClose}>{words.cancel}</Button>
          <KeyHints keys={[["Esc", keyWords.backsOut]]} />
        </div>
        <Prevail />
      </form>
    </Dialog>
  );
}

interface GamesProps {
  readonly person: Player;
  readonly chosen: readonly EvidenceGame[];
  readonly take: (game: EvidenceGame, taken: boolean) => void;
}

function Games({ person, chosen, take }: GamesProps) {
  const games = gamesToOffer(useDesk(), person.player, MOST);
  if (games.length === 0) return null;
  return (
    <fieldset>
      <legend>{said.games}</legend>
      <p class="quiet small">{said.gamesHint}</p>
      {games.map((game) => (
        <label key={`${game.day} ${game.score}`} class="choice">
          <input
            type="checkbox"
            checked={chosen.some(({ day, score }) => day === game.day && score === game.score)}
            onChange={(event) => take(game, event.currentTarget.checked)}
          />
          <span>
            {said.game(
              game.day,
              game.off,
              game.score.replaceAll("-", "–"),
              game.against.map((player) => nameOf(player)).join(" & "),
            )}
          </span>
        </label>
      ))}
    </fieldset>
  );
}
