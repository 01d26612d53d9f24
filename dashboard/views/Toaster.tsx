// What was just done, with the way back.
import { undoAct } from '../actions/batchActs.ts';
import { dismissToast, openDialog } from '../actions/deviceActs.ts';
import { undoTimer } from '../actions/timerActs.ts';
import { $toast, $words, type Toast } from '../state/sources.ts';
import { SmallSign } from './shapes.tsx';

/** The toast; its live region is always there. */
export function Toaster() {
  const toast = $toast.value;
  const { act, closed } = $words.value;
  const layer = toast?.layer;
  const undo = undoOf(toast);
  return (
    <div class="toaster" role="status">
      {toast === null ? null : (
        <div class="toast">
          <span class="toast-text">{toast.text}</span>
          {layer === undefined ? null : (
            <button type="button" class="toast-undo" onClick={() => mixLayer(layer)}>
              {closed.layer}
            </button>
          )}
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

function mixLayer(preset: NonNullable<Toast['layer']>): void {
  dismissToast();
  openDialog({ kind: 'mix', preset, variant: 'layer' });
}

function undoOf(toast: Toast | null): (() => void) | null {
  const { undo = null, undoTimer: timer } = toast ?? {};
  if (undo !== null) return () => undoAct(undo);
  return timer === undefined ? null : () => undoTimer(timer);
}
