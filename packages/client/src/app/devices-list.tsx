/** The devices this browser is, and how it becomes one: what stands at the front page, which a device at work does not see. */
import { ButtonLink } from "./parts/button.tsx";
import { Empty } from "./parts/empty.tsx";
import { Notice } from "./parts/notice.tsx";
import { Page } from "./parts/page.tsx";
import type { KeptPass } from "./passes.ts";
import { shortId } from "./passes.ts";
import { frontWords as words } from "./words/front.ts";

interface DevicesHereProps {
  readonly kept: readonly KeptPass[];
  /** The address names a device this browser has no pass for. */
  readonly wanted: boolean;
  /** The address had a pass that could not be read. */
  readonly broken: boolean;
}

export function DevicesHere({ kept, wanted, broken }: DevicesHereProps) {
  const notices = (
    <>
      {broken && <Notice tone="bad" title={words.broken} live />}
      {wanted && <Notice tone="warn" title={words.unknown} />}
    </>
  );
  if (kept.length === 0) {
    return (
      <Page title={words.title}>
        {notices}
        <Empty title={words.emptyTitle}>
          <p>{words.emptyBody}</p>
          <Beginnings />
          <p>{words.emptyDemo}</p>
        </Empty>
      </Page>
    );
  }
  return (
    <Page title={words.title} lead={words.lead}>
      {notices}
      <ul class="devices">
        {kept.map(({ device, pass }) => (
          <li key={device}>
            <ButtonLink href={`/d/${shortId(device)}/`}>{words.open(pass.label)}</ButtonLink>
          </li>
        ))}
      </ul>
      <h2>{words.more}</h2>
      <Beginnings />
    </Page>
  );
}

const Beginnings = () => (
  <ul class="devices">
    {(["start", "join", "start-league", "recover"] as const).map((place) => (
      <li key={place}>
        <ButtonLink href={`/${place}`}>{words[place]}</ButtonLink>
      </li>
    ))}
  </ul>
);
