/** Files: results brought in from a spreadsheet, and members, results and cards taken out. */
import { useDesk, version } from "../desk-store.ts";
import { lazyPart } from "../lazy.tsx";
import { Page } from "../parts/page.tsx";
import { mayHere } from "../permission.ts";
import { filesWords } from "../words/files.ts";
import { ColumnsSection } from "./columns-section.tsx";
import "./files.css";
import { useEffect } from "preact/hooks";
import { importAt } from "./import-here.ts";
import type { Importing } from "./importing.ts";
import { LastImportSection } from "./last-import-section.tsx";
import { OutSection } from "./out-section.tsx";
import { PreviewSection } from "./preview-section.tsx";
import { QuestionsSection } from "./questions-section.tsx";
import { SaveSection } from "./save-section.tsx";
import { ReadSection, SourceSection } from "./source-section.tsx";

const SlipIn = lazyPart(() => import("../slips/slip-in.tsx"), "SlipIn");

export function FilesScreen() {
  const desk = useDesk();
  const importing = importAt(desk);
  return (
    <Page title={filesWords.title} lead={filesWords.lead}>
      <section aria-labelledby="files-in">
        <h2 id="files-in">{filesWords.inTitle}</h2>
        {mayHere(desk.club, "match-reported") ? <BringIn importing={importing} /> : <p>{filesWords.mayNot}</p>}
      </section>
      <SlipIn />
      <OutSection />
    </Page>
  );
}

function BringIn({ importing }: { readonly importing: Importing }) {
  // What came from another device meanwhile may be what the file has.
  const seen = version.value;
  useEffect(() => void importing.rework(), [importing, seen]);
  if (importing.taken.value === null) {
    return (
      <>
        <LastImportSection />
        <SourceSection importing={importing} />
      </>
    );
  }
  return (
    <>
      <ReadSection importing={importing} />
      <ColumnsSection importing={importing} />
      <QuestionsSection importing={importing} />
      <PreviewSection importing={importing} />
      <SaveSection importing={importing} />
    </>
  );
}
