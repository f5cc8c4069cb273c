/** Everybody in the club's record: found by a few letters, in the order asked for. */
import { signal } from "@preact/signals";
import type { PlayerId } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import "./members.css";
import { useDesk, version } from "../desk-store.ts";
import { createPeopleFinder } from "../entry/people.ts";
import { nameIn, rosterRecordOf, shortNameIn } from "../names.ts";
import { Button } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Field } from "../parts/field.tsx";
import { KeyHints } from "../parts/key-hints.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { keyWords } from "../words/keys.ts";
import { membersWords } from "../words/members.ts";
import { printWords } from "../words/print.ts";
import { proposalWords } from "../words/proposals.ts";
import { JoinDialog } from "./join-dialog.tsx";
import type { RollRow, RollSort } from "./roll.ts";
import { rollOf, sortByName, sortNamed } from "./roll.ts";
import { RollTable } from "./roll-table.tsx";

/** Kept while other screens are looked at, so that coming back from a card finds the list as it was. */
const typed = signal("");
const sort = signal<RollSort>("name");

function rollHere(): readonly RollRow[] {
  const desk = useDesk();
  const named = (player: PlayerId) => {
    const record = rosterRecordOf(desk, player);
    return {
      name: record?.name ?? nameIn(desk, player),
      short: record?.short ?? shortNameIn(desk, player),
      junior: record?.junior === true,
    };
  };
  return rollOf(desk.club.state(), named, desk.today());
}

export const MembersScreen = Object.assign(Members, { prepare: () => void rollHere() });

function Members({ query }: ScreenProps) {
  const desk = useDesk();
  const { route } = useLocation();
  const href = useHref();
  /** An address may ask for it, as the search does. */
  const [pressed, setPressed] = useState(false);
  const today = desk.today();
  // Worked out when the record changes, not with each letter typed: in a list of thousands that would be felt.
  const all = useMemo(() => sortByName(rollHere()), [desk, version.value, today]);
  const isAsked = typed.value.trim() !== "";
  // Each name is taken apart for it, which nobody need wait for who asks for nobody.
  const find = useMemo(() => (isAsked ? createPeopleFinder(all) : () => all), [all, isAsked]);
  const ordered = useMemo(() => sortNamed(all, sort.value), [all, sort.value]);
  const met = new Set(find(typed.value));
  const rows = ordered.filter((row) => met.has(row));
  const of = (standing: RollRow["standing"]) => rows.filter((row) => row.standing === standing);
  const members = all.filter(({ standing }) => standing === "member").length;
  const visitors = all.filter(({ standing }) => standing === "visitor").length;
  const mayMember = mayHere(desk.club, "player-joined", { standing: "member" });
  const mayVisitor = mayHere(desk.club, "player-joined", { standing: "visitor" });
  const adding = mayVisitor && (pressed || query["add"] !== undefined);
  const around = { today, leagues: desk.leagues };
  const close = (): void => {
    setPressed(false);
    if (query["add"] !== undefined) route(href(places.members), true);
  };

  const openFirst = (event: Event): void => {
    event.preventDefault();
    const [first] = [...of("member"), ...of("visitor"), ...of("left")];
    if (first !== undefined) route(href(places.member(first.player)));
  };

  return (
    <Page
      title={membersWords.title}
      lead={membersWords.lead(members, visitors)}
      actions={
        <>
          <Button onClick={() => setPressed(true)} disabled={!mayVisitor}>
            {membersWords.add.button}
          </Button>
          {!mayVisitor && <span class="quiet small">{membersWords.add.mayNot}</span>}
        </>
      }
    >
      <p class="members-more no-print">
        <a href={href(places.check)}>{membersWords.check}</a>
        <a href={href(places.review)}>{membersWords.review}</a>
        <a href={href(places.proposals)}>{proposalWords.title}</a>
        <a href={href(places.moving)}>{membersWords.moving}</a>
        <a href={href(places.printHandicaps)}>{printWords.list.link}</a>
      </p>
      {all.length === 0 ? (
        <Empty title={membersWords.empty.title}>
          <p>{membersWords.empty.body}</p>
        </Empty>
      ) : (
        <>
          <search>
            <form class="roll-find" onSubmit={openFirst}>
              <Field label={membersWords.find} hint={membersWords.findHint}>
                {(control) => (
                  <input
                    {...control}
                    type="search"
                    autoComplete="off"
                    value={typed.value}
                    onInput={(event) => {
                      typed.value = event.currentTarget.value;
                    }}
                  />
                )}
              </Field>
              <Field label={membersWords.sort}>
                {(control) => (
                  <select
                    {...control}
                    value={sort.value}
                    onChange={(event) => {
                      sort.value = event.currentTarget.value as RollSort;
                    }}
                  >
                    {Object.entries(membersWords.sorts).map(([key, said]) => (
                      <option key={key} value={key}>
                        {said}
                      </option>
                    ))}
                  </select>
                )}
              </Field>
            </form>
          </search>
          <KeyHints keys={[["Enter", keyWords.opensFirst]]} />
          <p class="quiet" role="status">
            {rows.length === 0 ? membersWords.nobody(typed.value.trim()) : membersWords.found(rows.length, all.length)}
          </p>
          <RollTable rows={of("member")} kind="member" {...around} />
          {of("visitor").length > 0 && (
            <section aria-labelledby="visitors">
              <h2 id="visitors">{membersWords.visitors}</h2>
              <p class="quiet">{membersWords.visitorsLead}</p>
              <RollTable rows={of("visitor")} kind="visitor" {...around} />
            </section>
          )}
          {of("left").length > 0 && (
            <section aria-labelledby="left">
              <h2 id="left">{membersWords.left}</h2>
              <RollTable rows={of("left")} kind="left" {...around} />
            </section>
          )}
          <Prevail />
        </>
      )}
      {adding && (
        <JoinDialog mayMember={mayMember} names={new Set(all.map(({ name }) => name.toLowerCase()))} onClose={close} />
      )}
    </Page>
  );
}
