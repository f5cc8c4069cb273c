/** The browser's storage would not open. */
import { Button } from "../parts/button.tsx";
import { Page } from "../parts/page.tsx";
import { troubleWords } from "../words/trouble.ts";
import { words } from "../words.ts";
import { StorageTold } from "./storage-told.tsx";

export const NotOpened = ({ cause }: { readonly cause: string }) => (
  <Page title={words.failed.title}>
    <StorageTold cause={cause} also={troubleWords.notOpened} />
    <Button look="main" onClick={() => location.reload()}>
      {words.failed.reload}
    </Button>
  </Page>
);
