/** Why this device's storage would not do it, what to do, and what the browser itself said. */
import { troubleWords } from "../words/trouble.ts";
import { storageWhy } from "./storage-why.ts";

export function StorageTold({ cause, also }: { readonly cause: string; readonly also: string }) {
  const { why, todo } = troubleWords.why[storageWhy(cause)];
  return (
    <>
      <p>
        {why} {todo} {also}
      </p>
      <p class="small quiet">{cause}</p>
    </>
  );
}
