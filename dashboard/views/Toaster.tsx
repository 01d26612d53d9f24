// What was just done, with the way back.
import { undoAct } from '../actions/batchActs.ts';
import { dismissToast } from '../actions/deviceActs.ts';
import { undoTimer } from '../actions/timerActs.ts';
import { $toast, $words, type Toast } from '../state/sources.ts';
import { SmallSign } from './shapes.tsx';

/** The toast; its live region is always there. */
export function Toaster() {
  const toast = $toast.value;
  const { act } = $words.value;
  const undo = undoOf(toast);
  return (
    <div class="toaster" role="status">
      {toast === null ? null : (
        <div class="toast">
          <span>{toast.text}</span>
          {undo === null ? null : (
            <button type="button" class="toast-undo" onClick={undo}>
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

function undoOf(toast: Toast | null): (() => void) | null {
  const { undo = null, undoTimer: timer } = toast ?? {};
  if (undo !== null) return () => undoAct(undo);
  return timer === undefined ? null : () => undoTimer(timer);
}
