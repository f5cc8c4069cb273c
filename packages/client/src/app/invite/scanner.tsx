/**
 * The camera, looking for codes. Pictures are read here, in the page, by the library that also draws the codes; none is kept or sent. Not
 * the browser's own detector of codes, which most browsers have not.
 */

import { useEffect, useRef, useState } from "preact/hooks";
import decodeQR from "qr/decode.js";
import { collectCodes } from "../../invite/parcels.ts";
import { inviteWords } from "../words/invite.ts";
import "./invite.css";

/** Between two pictures, in milliseconds. */
const PAUSE = 150;

export function Scanner({ found }: { readonly found: (parcel: Uint8Array) => void }) {
  const said = inviteWords.take;
  const video = useRef<HTMLVideoElement>(null);
  const [told, setTold] = useState<string>(said.scanning);
  useEffect(() => {
    let left = false;
    let stream: MediaStream | null = null;
    const run = async (): Promise<void> => {
      stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" }, audio: false });
      const screen = video.current;
      if (left || screen === null) return stop(stream);
      screen.srcObject = stream;
      await screen.play();
      const collector = collectCodes();
      while (!left) {
        const code = readPicture(screen);
        const got = code === null ? null : await collector.take(code);
        if (got !== null) setTold(said.have(got.have, got.of));
        if (got?.parcel != null && !left) return found(got.parcel);
        await new Promise((done) => setTimeout(done, PAUSE));
      }
    };
    run().catch(() => left || setTold(said.refusedCamera));
    return () => {
      left = true;
      stop(stream);
    };
  }, []);
  return (
    <div>
      <video ref={video} class="invite-video" muted playsInline aria-label={said.picture} />
      <p role="status">{told}</p>
    </div>
  );
}

function stop(stream: MediaStream | null): void {
  for (const track of stream?.getTracks() ?? []) track.stop();
}

/** The code in what the camera sees now; null when there is none to be read. */
function readPicture(video: HTMLVideoElement): string | null {
  const { videoWidth: width, videoHeight: height } = video;
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [width, height];
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (context === null || width === 0) return null;
  context.drawImage(video, 0, 0);
  try {
    return decodeQR(context.getImageData(0, 0, width, height));
  } catch {
    return null;
  }
}
