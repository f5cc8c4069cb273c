/** That this device's storage fails, or has been put back, or that its helper has: what, why, and what to do. */
import { helperLost, putBack, useDesk } from "../desk-store.ts";
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
      {helperLost.value !== null && (
        <Notice tone="info" title={troubleWords.helperLost.title} live>
          <p>{troubleWords.helperLost.body}</p>
          <p class="small quiet">{helperLost.value}</p>
          <Button
            onClick={() => {
              helperLost.value = null;
            }}
          >
            {troubleWords.helperLost.seen}
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
