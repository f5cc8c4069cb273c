/** Whether the browser keeps the record, and how much room there is. A promise is a hint and not a guarantee, and is shown as one. */
import { useEffect, useState } from "preact/hooks";
import { Button } from "../parts/button.tsx";
import { sharingWords } from "../words/sharing.ts";

interface Room {
  readonly persisted: boolean | null;
  readonly used: number | null;
  readonly quota: number | null;
}

export function StorageSection() {
  const [room, setRoom] = useState<Room | null>(null);
  const [asked, setAsked] = useState(false);
  const look = (): Promise<void> => readRoom().then(setRoom);
  useEffect(() => void look(), []);
  const ask = async (): Promise<void> => {
    await navigator.storage.persist();
    setAsked(true);
    await look();
  };
  return (
    <section aria-label={sharingWords.storage}>
      <h2 class="sharing-head">{sharingWords.storage}</h2>
      <div aria-live="polite">
        {room !== null && <p>{promise(room)}</p>}
        {room?.used != null && room.quota !== null && (
          <p>{sharingWords.used(sizeWords(room.used), sizeWords(room.quota - room.used))}</p>
        )}
        {asked && room?.persisted === false && <p>{sharingWords.refused}</p>}
      </div>
      {room?.persisted === false && <Button onClick={() => void ask()}>{sharingWords.persist}</Button>}
    </section>
  );
}

function promise({ persisted }: Room): string {
  if (persisted === null) return sharingWords.unknown;
  return persisted ? sharingWords.persisted : sharingWords.notPersisted;
}

async function readRoom(): Promise<Room> {
  try {
    const [persisted, { usage, quota }] = await Promise.all([
      navigator.storage.persisted(),
      navigator.storage.estimate(),
    ]);
    return { persisted, used: usage ?? null, quota: quota ?? null };
  } catch {
    return { persisted: null, used: null, quota: null };
  }
}

const MEGABYTE = 1_000_000;

const sizeWords = (bytes: number): string =>
  bytes < MEGABYTE
    ? `${Math.ceil(bytes / 1_000)} kB`
    : bytes < 1_000 * MEGABYTE
      ? `${Math.round(bytes / MEGABYTE)} MB`
      : `${Math.round(bytes / (1_000 * MEGABYTE))} GB`;
