/** A member's card. */
import type { BookState, Card, PlayerId, RuleSet } from "@sward/core";
import { useMemo, useState } from "preact/hooks";
import "./card.css";
import { nameOf, officeHere, useDesk } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Below } from "../parts/below.tsx";
import { Button, ButtonLink } from "../parts/button.tsx";
import { Page } from "../parts/page.tsx";
import { Prevail } from "../parts/prevail.tsx";
import { usePrinting } from "../parts/printing.ts";
import { mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { cardWords } from "../words/card.ts";
import { printWords } from "../words/print.ts";
import { words } from "../words.ts";
import { CardFront } from "./card-front.tsx";
import { CardLines } from "./card-lines.tsx";
import { CardPrint } from "./card-print.tsx";
import { ChangesTable } from "./changes-table.tsx";
import { planChart } from "./chart-plan.ts";
import { IndexChart } from "./index-chart.tsx";
import { NameDialog } from "./name-dialog.tsx";
import { rulesToday } from "./rules-today.ts";
import { SetHandicapDialog } from "./set-handicap-dialog.tsx";
import { SignDialog } from "./sign-dialog.tsx";
import { Signatures } from "./signatures.tsx";

const PersonSection = lazyPart(() => import("../person/person-section.tsx"), "PersonSection");
const VisitorPage = lazyPart(() => import("../visitors/visitor-page.tsx"), "VisitorPage");
const MemberPart = lazyPart(() => import("../visitors/member-part.tsx"), "MemberPart");

const MovingPart = lazyPart(() => import("../moving/moving-part.tsx"), "MovingPart");

export function CardScreen({ params, query }: ScreenProps) {
  const desk = useDesk();
  const href = useHref();
  const state = desk.club.state();
  const asked = params["player"] as PlayerId;
  const player = state.players.get(asked) ?? [...state.players.values()].find((p) => p.alsoKnownAs.includes(asked));
  const card = player === undefined ? undefined : state.cards.get(player.player);
  const [open, setOpen] = useState<"sign" | "set" | "name" | null>(null);
  const [which, setWhich] = useState<"year" | "all">("year");
  const printing = usePrinting();
  const close = (): void => setOpen(null);
  if (player?.standing === "visitor") return <VisitorPage key={player.player} visitor={player} />;
  if (player === undefined || card === undefined) return <NoCard player={asked} state={state} />;

  const name = nameOf(player.player);
  const today = desk.today();
  const rules = rulesToday(state, today);
  const show = /^\d+$/.test(query["line"] ?? "") ? Number(query["line"]) : null;
  return (
    <Page title={name}>
      <div class="no-print">
        <CardFront card={card} player={player} today={today} rules={rules} />
        <div class="row card-actions">
          <Permitted kind="card-signed" why={cardWords.mayNot.sign} act={() => setOpen("sign")}>
            {cardWords.sign.button}
          </Permitted>
          <Permitted kind="handicap-set" why={cardWords.mayNot.set} act={() => setOpen("set")}>
            {cardWords.set.button}
          </Permitted>
          <Button onClick={() => setOpen("name")} disabled={officeHere.value === "reader"}>
            {cardWords.name.button}
          </Button>
          <Button onClick={() => window.print()}>{cardWords.print.button}</Button>
          <ButtonLink href={href(places.printCard(player.player))}>{printWords.fold.link}</ButtonLink>
          <ButtonLink href={href(places.printChart(player.player))}>{printWords.chart.link}</ButtonLink>
          <ButtonLink href={href(places.reviewOf(player.player))}>{cardWords.review}</ButtonLink>
          <label class="row">
            <span>{cardWords.print.which}</span>
            <select value={which} onChange={(event) => setWhich(event.currentTarget.value as typeof which)}>
              <option value="year">{cardWords.print.year}</option>
              <option value="all">{cardWords.print.all}</option>
            </select>
          </label>
        </div>
        <Chart card={card} set={rules?.set} name={name} />
        <Below atOnce={show !== null}>
          <CardLines card={card} state={state} show={show} />
          <Signatures card={card} />
          <MemberPart person={player} handicap={card.handicap} />
          <MovingPart player={player} />
          <PersonSection player={player.player} />
          <Prevail />
        </Below>
      </div>
      {printing && <CardPrint card={card} which={which} />}
      {open === "sign" && <SignDialog card={card} onClose={close} />}
      {open === "set" && <SetHandicapDialog card={card} onClose={close} />}
      {open === "name" && <NameDialog player={player.player} onClose={close} />}
    </Page>
  );
}

/** A card is never changed, and what changes makes another: the chart of one is drawn once. */
function Chart({ card, set, name }: { readonly card: Card; readonly set: RuleSet | undefined; readonly name: string }) {
  return useMemo(() => {
    const plan = planChart(card.lines, set, card.handicap);
    if (plan === null) return null;
    return (
      <section aria-labelledby="card-chart">
        <h2 id="card-chart">{cardWords.chart.title}</h2>
        <IndexChart plan={plan} name={name} />
        <Changes card={card} />
      </section>
    );
  }, [card, set, name]);
}

interface PermittedProps {
  readonly kind: "card-signed" | "handicap-set";
  readonly why: string;
  readonly act: () => void;
  readonly children: string;
}

/** A button, or beside a dead one why this device may not press it. */
function Permitted({ kind, why, act, children }: PermittedProps) {
  const may = mayHere(useDesk().club, kind);
  return (
    <span class="row">
      <Button onClick={act} disabled={!may}>
        {children}
      </Button>
      {!may && (
        <span class="quiet small">
          {why} {cardWords.mayNot.here(words.office[officeHere.value])}
        </span>
      )}
    </span>
  );
}

function Changes({ card }: { readonly card: Card }) {
  const [open, setOpen] = useState(false);
  return (
    <details class="card-changes" onToggle={(event) => setOpen(event.currentTarget.open)}>
      <summary>{cardWords.chart.asTable}</summary>
      {open && <ChangesTable lines={card.lines} />}
    </details>
  );
}

function NoCard({ player, state }: { readonly player: PlayerId; readonly state: BookState }) {
  const href = useHref();
  const standing = state.players.get(player)?.standing;
  const { notHere } = cardWords;
  const said = standing === undefined ? notHere.unknown : notHere.none(nameOf(player));
  return (
    <Page title={standing === undefined ? notHere.title : nameOf(player)}>
      <p>{said}</p>
      {standing !== undefined && <PersonSection player={player} />}
      <p>
        <a href={href(places.members)}>{words.nav.members}</a>
      </p>
    </Page>
  );
}
