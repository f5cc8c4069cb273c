/** Score pads of this device: the list and a new one, one game (`lawn/<pad>`), or its result (`lawn/<pad>/result`). */
import { Page } from "../parts/page.tsx";
import { places, useHref } from "../place.ts";
import type { ScreenProps } from "../screen-props.ts";
import { lawnWords } from "../words/lawn.ts";
import { PadList } from "./pad-list.tsx";
import { PadScreen } from "./pad-screen.tsx";
import { ResultScreen } from "./result-screen.tsx";
import { SetupSheet } from "./setup-sheet.tsx";
import { usePadStore } from "./use-pad.ts";
import "../entry/entry.css";
import "./lawn.css";

export function LawnScreen({ params }: Pick<ScreenProps, "params">) {
  const store = usePadStore();
  const href = useHref();
  const { pad: id, step } = params;
  if (id === undefined) {
    return (
      <Page title={lawnWords.title} lead={lawnWords.lead}>
        <PadList store={store} />
        <SetupSheet store={store} />
      </Page>
    );
  }
  const pad = store.read(id);
  if (pad === null) {
    return (
      <Page title={lawnWords.title}>
        <p>{lawnWords.result.noPad}</p>
        <p>
          <a href={href(places.lawn)}>{lawnWords.more.back}</a>
        </p>
      </Page>
    );
  }
  return step === undefined ? <PadScreen key={id} initial={pad} /> : <ResultScreen key={id} pad={pad} />;
}
