// A toast stays ten seconds; the same act can be taken back for ten minutes under More.
import { $toast, type Toast } from '../state/sources.ts';

const TOAST_MS = 10_000;

let timer: ReturnType<typeof setTimeout> | undefined;

/** Shows a toast in place of the one before. */
export function showToast(toast: Toast): void {
  clearTimeout(timer);
  $toast.value = toast;
  timer = setTimeout(() => {
    if ($toast.peek() === toast) $toast.value = null;
  }, TOAST_MS);
}
