// What was just done, with the way back.
import { undoAct } from '../actions/batchActs.ts';
import { dismissToast } from '../actions/deviceActs.ts';
import { $toast, $words } from '../state/sources.ts';
import { SmallSign } from './shapes.tsx';

/** The toast; its live region is always there. */
export function Toaster() {
  const toast = $toast.value;
  const { act } = $words.value;
  const undo = toast?.undo ?? null;
  return (
    <div class="toaster" role="status">
      {toast === null ? null : (
        <div class="toast">
          <span>{toast.text}</span>
          {undo === null ? null : (
            <button type="button" class="toast-undo" onClick={() => undoAct(undo)}>
              {act.undo}
            </button>
          )}
          <button type="button" class="plain square" aria-label={act.close} onClick={dismissToast}>
            <SmallSign name="close" />
          </button>
        </div>
      )}
    </div>
  );
}
