/** What one device has to say to another across the room: as codes one after another, as a file, as text. */
import { useEffect, useState } from "preact/hooks";
import { codesOfParcel, textOfParcel } from "../../invite/parcels.ts";
import { Button } from "../parts/button.tsx";
import { inviteWords } from "../words/invite.ts";
import { QrCode } from "./qr-code.tsx";

export interface ShowParcelProps {
  readonly parcel: Uint8Array;
  /** What the file holds, where that is more. */
  readonly inFile?: Uint8Array;
  readonly fileName: string;
}

/** How long each code stands, in milliseconds: a camera takes two or three pictures of it. */
const TURN = 1_200;

export function ShowParcel({ parcel, inFile = parcel, fileName }: ShowParcelProps) {
  const said = inviteWords.show;
  const [codes, setCodes] = useState<readonly string[] | null>([]);
  const [at, setAt] = useState(0);
  const [running, setRunning] = useState(true);
  useEffect(() => {
    setAt(0);
    void codesOfParcel(parcel).then(setCodes);
  }, [parcel]);
  const many = codes?.length ?? 0;
  const next = (): void => setAt((before) => (many === 0 ? 0 : (before + 1) % many));
  useEffect(() => {
    if (!running || many < 2) return;
    const timer = setInterval(next, TURN);
    return () => clearInterval(timer);
  }, [running, many]);
  const code = codes?.[at];
  return (
    <div class="invite-show">
      {codes === null && <p>{said.tooLarge}</p>}
      {code !== undefined && (
        <>
          <QrCode text={code} label={said.code(at + 1, many)} />
          {many > 1 && (
            <div class="row">
              <span>{said.code(at + 1, many)}</span>
              <Button onClick={() => setRunning(!running)}>{running ? said.hold : said.run}</Button>
              {!running && <Button onClick={next}>{said.next}</Button>}
            </div>
          )}
        </>
      )}
      <div class="row">
        <Button onClick={() => offer(textOfParcel(inFile), fileName)}>{said.file}</Button>
      </div>
      <details>
        <summary>{said.text}</summary>
        <textarea class="invite-text" readOnly rows={4} aria-label={said.text} value={textOfParcel(parcel)} />
      </details>
    </div>
  );
}

/** Hands a text to the browser as a file to keep. */
function offer(text: string, name: string): void {
  const url = URL.createObjectURL(new Blob([text], { type: "text/plain" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser has taken it by the next turn; a second is for slow ones.
  setTimeout(() => URL.revokeObjectURL(url), 1_000);
}
