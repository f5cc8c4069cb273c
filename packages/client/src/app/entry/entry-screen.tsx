/** Entering matches, many in a row; or correcting one, when the address names it (`?correct=<entry>`). */
import { useSignal } from "@preact/signals";
import type { EntryId, MatchReported, PlayerId } from "@sward/core";
import { useEffect, useState } from "preact/hooks";
import { useLocation } from "preact-iso";
import type { Desk } from "../../desk/desk.ts";
import { nameOf, useDesk } from "../desk-store.ts";
import { ButtonLink } from "../parts/button.tsx";
import { Empty } from "../parts/empty.tsx";
import { Page } from "../parts/page.tsx";
import { mayCorrectHere, mayHere } from "../permission.ts";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../routes.ts";
import { entryWords } from "../words/entry.ts";
import { lawnWords } from "../words/lawn.ts";
import { EntryForm } from "./entry-form.tsx";
import "./entry.css";
import type { EntryForm as Form } from "./form.ts";
import { correctionForm } from "./form.ts";
import type { Typing } from "./form-store.ts";
import { typingAt } from "./form-store.ts";
import { hasRecord, reportBody } from "./kept-record.ts";
import { reportedIn } from "./same-match.ts";

export function EntryScreen({ query }: Pick<ScreenProps, "query">) {
  const desk = useDesk();
  const typing = typingAt(desk.club.device, desk.today());
  const correct = query["correct"];
  if (!mayHere(desk.club, "match-reported")) {
    return (
      <Page title={entryWords.title}>
        <Empty title={entryWords.mayNotTitle}>
          <p>{entryWords.mayNot}</p>
        </Empty>
      </Page>
    );
  }
  if (correct !== undefined) return <Correction key={correct} typing={typing} entry={correct as EntryId} />;
  return <NextMatch typing={typing} />;
}

function NextMatch({ typing }: { readonly typing: Typing }) {
  const href = useHref();
  const title = typing.form.value.replaces === null ? entryWords.title : entryWords.correctTitle;
  // The heading has the focus for a moment, for those who hear the page; then the first name, for those who type.
  useEffect(() => {
    const timer = setTimeout(() => document.querySelector<HTMLElement>('[data-field="player-0"]')?.focus(), 0);
    return () => clearTimeout(timer);
  }, []);
  return (
    <Page
      title={title}
      lead={entryWords.lead}
      actions={
        <>
          <ButtonLink href={href(places.lawn)}>{lawnWords.link}</ButtonLink>
          <ButtonLink href={href(places.files)}>{entryWords.fromFile}</ButtonLink>
        </>
      }
    >
      <EntryForm typing={typing} form={typing.form} onDone={() => undefined} />
    </Page>
  );
}

function Correction({ typing, entry }: { readonly typing: Typing; readonly entry: EntryId }) {
  const desk = useDesk();
  const href = useHref();
  const { route } = useLocation();
  // Once: saving the correction makes the entry one that no longer stands.
  const [found] = useState(() => findCorrection(desk, entry));
  if ("why" in found) {
    return (
      <Page title={entryWords.noCorrection.title}>
        <p>{entryWords.noCorrection[found.why]}</p>
        <ButtonLink href={href(found.why === "league" ? places.league : places.entry)}>
          {found.why === "league" ? entryWords.noCorrection.toLeague : entryWords.noCorrection.back}
        </ButtonLink>
      </Page>
    );
  }
  return (
    <Page title={entryWords.correctTitle}>
      <CorrectionForm
        typing={typing}
        initial={found.form}
        recorded={found.recorded}
        onDone={() => route(href(places.entry))}
      />
    </Page>
  );
}

interface CorrectionFormProps {
  readonly typing: Typing;
  readonly initial: Form;
  readonly recorded: MatchReported | undefined;
  readonly onDone: () => void;
}

function CorrectionForm({ typing, initial, recorded, onDone }: CorrectionFormProps) {
  const form = useSignal(initial);
  return <EntryForm typing={typing} form={form} onDone={onDone} recorded={recorded} />;
}

type Found =
  | { readonly form: Form; readonly recorded: MatchReported | undefined }
  | { readonly why: "body" | "league" | "mayNot" };

function findCorrection(desk: Desk, entry: EntryId): Found {
  const { club } = desk;
  const match = reportedIn(club.state(), entry);
  const report = match?.reports.find((one) => one.entry === entry);
  if (match === undefined || report === undefined) return { why: "body" };
  if (report.origin !== club.id) return { why: "league" };
  if (!mayCorrectHere(club, report.by)) return { why: "mayNot" };
  const ours = (player: PlayerId): boolean => club.state().players.get(player)?.standing === "member";
  const body = reportBody(club, entry);
  return {
    form: correctionForm(report.facts, { id: entry, event: match.event, start: match.start }, ours, nameOf),
    recorded: body !== undefined && hasRecord(body) ? body : undefined,
  };
}
