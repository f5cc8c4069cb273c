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
            {last.undo !== null && (
              <Button
                onClick={({ currentTarget }) => {
                  void undoSaved();
                  queueMicrotask(() => handFocusOn(currentTarget));
                }}
              >
                {words.undo}
              </Button>
            )}
            <Button
              look="quiet"
              onClick={() => {
                saved.value = null;
              }}
            >
              {words.close}
            </Button>
          </div>
        </div>
      )}
    </div>
  );
}

/**
 * While it is being signed: the button will be gone, and its focus would be lost with it. To take away what has the focus also makes the
 * browser lay out a page that is half drawn.
 */
function handFocusOn(button: HTMLButtonElement): void {
  if (document.activeElement === button)
    (button.nextElementSibling as HTMLElement | null)?.focus({ preventScroll: true });
}
