/** What was saved last, spoken and shown, with Undo beside it. It stays until it is put away or something else is saved. */
import { saved, saving, undoSaved } from "../saved.ts";
import { words } from "../words.ts";
import { Button } from "./button.tsx";

export function SavedBar() {
  const last = saved.value;
  return (
    <div class="saved-bar no-print" role="status">
      {saving.value && (
        <div class="saved-inner">
          <p>
            <label>
              {words.saving} <progress />
            </label>
          </p>
        </div>
      )}
      {last !== null && !saving.value && (
        <div class="saved-inner">
          <p>
            <span aria-hidden="true">✓ </span>
            {last.sentence} {last.undo !== null && <span class="small">{words.saved.undoMeans}</span>}
            {last.fault !== undefined && (
              <strong>
                {last.fault.what} {last.fault.why} {last.fault.todo}
              </strong>
            )}
          </p>
          <div class="row">
            {/* The same element, of whatever it is the button: it has the focus, and undoing must not take away what has it. */}
            {last.undo !== null && (
              <Button key="nearest" onClick={() => void undoSaved()}>
                {words.undo}
              </Button>
            )}
            <Button key={last.undo === null ? "nearest" : "close"} look="quiet" onClick={putAway}>
              {words.close}
            </Button>
          </div>
        </div>
      )}
    </div>
  );
}

function putAway(): void {
  saved.value = null;
}
