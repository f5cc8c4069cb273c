/** Names nobody has and events nobody opened: one answer each, for all their lines. */
import type { EventId, PlayerId } from "@sward/core";
import { randomId } from "../../desk/platform.ts";
import { useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Field } from "../parts/field.tsx";
import { mayHere } from "../permission.ts";
import { filesWords } from "../words/files.ts";
import type { Joiner } from "./drafts.ts";
import type { Importing, Outcome } from "./importing.ts";
import { withEntry } from "./keyed.ts";
import type { EventChoice, NameChoice, NameQuestion } from "./questions.ts";
import { LONGEST_NAME } from "./seats.ts";

interface Props {
  readonly importing: Importing;
}

export function QuestionsSection({ importing }: Props) {
  const outcome = importing.outcome.value;
  if (outcome === null) return null;
  return (
    <>
      {outcome.names.length > 0 && <Names importing={importing} outcome={outcome} />}
      {outcome.events.length > 0 && <Events importing={importing} outcome={outcome} />}
    </>
  );
}

interface AskedProps extends Props {
  readonly outcome: Outcome;
}

const mayJoin = ({ text, match }: NameQuestion): boolean => text.length <= LONGEST_NAME && match.type === "unknown";

function Names({ importing, outcome }: AskedProps) {
  const { names: questions, people } = outcome;
  const everybody = [...people.values()].filter(({ standing }) => standing !== "new").sort(byName);
  const open = questions.filter((question) => question.choice === null && mayJoin(question));
  const words = filesWords.names;
  const choose = (question: NameQuestion, chosen: string): void => {
    const { names } = importing.choices.value;
    void importing.change({ names: withEntry(names, question.key, choiceOf(chosen, question.choice)) });
  };
  const addAll = (): void => {
    const names = new Map(importing.choices.value.names);
    for (const { key } of open) names.set(key, { type: "visitor", player: randomId() as PlayerId });
    void importing.change({ names });
  };
  return (
    <section aria-labelledby="files-names">
      <h3 id="files-names">{words.title}</h3>
      <p class="quiet">{words.hint}</p>
      <ul class="files-questions">
        {questions.map((question) => (
          <li key={question.key}>
            <Field
              label={words.who(question.text)}
              hint={`${question.match.type === "several" ? `${words.several} ` : ""}${words.on(question.lines, question.first)}`}
            >
              {(control) => (
                <select
                  {...control}
                  value={valueOfChoice(question.choice)}
                  onChange={(event) => choose(question, event.currentTarget.value)}
                >
                  <option value="">{words.choose}</option>
                  {mayJoin(question) && <option value={VISITOR}>{words.visitor}</option>}
                  <Offers offers={question.match.offers} people={people} />
                  <optgroup label={words.everybody}>
                    {everybody.map(({ player, name }) => (
                      <option key={player} value={player}>
                        {name}
                      </option>
                    ))}
                  </optgroup>
                </select>
              )}
            </Field>
          </li>
        ))}
      </ul>
      {open.length > 0 && <Button onClick={addAll}>{words.addAll(open.length)}</Button>}
    </section>
  );
}

interface OffersProps {
  readonly offers: readonly PlayerId[];
  readonly people: ReadonlyMap<PlayerId, Joiner>;
}

const Offers = ({ offers, people }: OffersProps) =>
  offers.length === 0 ? null : (
    <optgroup label={filesWords.names.offers}>
      {offers.map((player) => (
        <option key={player} value={`${OFFER}${player}`}>
          {people.get(player)?.name ?? player}
        </option>
      ))}
    </optgroup>
  );

/** Values of options that are nobody's id; an offer stands in two places of the list and needs a value of its own. */
const VISITOR = "visitor";
const OFFER = "offer ";

function choiceOf(chosen: string, before: NameChoice | null): NameChoice | null {
  if (chosen === "") return null;
  if (chosen !== VISITOR) return { type: "person", player: chosen.replace(OFFER, "") as PlayerId };
  return before?.type === "visitor" ? before : { type: "visitor", player: randomId() as PlayerId };
}

const valueOfChoice = (choice: NameChoice | null): string =>
  choice === null ? "" : choice.type === "visitor" ? VISITOR : choice.player;

const collator = new Intl.Collator();
const byName = (a: Joiner, b: Joiner): number => collator.compare(a.name, b.name);

function Events({ importing, outcome }: AskedProps) {
  const mayOpen = mayHere(useDesk().club, "event-opened");
  const words = filesWords.events;
  const choose = (key: string, chosen: string): void => {
    const choice: EventChoice | null =
      chosen === "open"
        ? { type: "open", event: randomId() as EventId }
        : chosen === "without"
          ? { type: "without" }
          : null;
    void importing.change({ events: withEntry(importing.choices.value.events, key, choice) });
  };
  return (
    <section aria-labelledby="files-events">
      <h3 id="files-events">{words.title}</h3>
      {!mayOpen && <p class="quiet">{words.mayNot}</p>}
      <ul class="files-questions">
        {outcome.events.map(({ key, title, season, choice }) => (
          <li key={key}>
            <Field label={words.what(title, season)}>
              {(control) => (
                <select
                  {...control}
                  value={choice?.type ?? ""}
                  onChange={(event) => choose(key, event.currentTarget.value)}
                >
                  <option value="">{words.choose}</option>
                  {mayOpen && <option value="open">{words.open}</option>}
                  <option value="without">{words.without}</option>
                </select>
              )}
            </Field>
          </li>
        ))}
      </ul>
    </section>
  );
}
