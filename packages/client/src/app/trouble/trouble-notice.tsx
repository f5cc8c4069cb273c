/** That this device's storage fails, or has been put back: what, why, and what to do. */
import { putBack, useDesk } from "../desk-store.ts";
import { Button } from "../parts/button.tsx";
import { Notice } from "../parts/notice.tsx";
import { troubleWords } from "../words/trouble.ts";
import { StorageTold } from "./storage-told.tsx";

export function TroubleNotice() {
  const { club, leagues } = useDesk();
  const trouble = [club, ...leagues].map((book) => book.trouble()).find((one) => one !== null);
  return (
    <>
      {putBack.value && (
        <Notice tone="warn" title={troubleWords.putBack.title} live>
          <p>{troubleWords.putBack.body}</p>
          <Button
            onClick={() => {
              putBack.value = false;
            }}
          >
            {troubleWords.putBack.seen}
          </Button>
        </Notice>
      )}
      {trouble != null && (
        <Notice tone="bad" title={troubleWords.during[trouble.during]} live>
          <StorageTold cause={trouble.cause} also={troubleWords.safe} />
        </Notice>
      )}
    </>
  );
}
