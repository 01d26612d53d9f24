// Registers the worker that keeps the shell, where the browser allows one; plain HTTP on a shop's network has none.

/** Registers it once the page stands, so that its downloads do not compete with the first screen. */
export function startServiceWorker(): void {
  if (!isSecureContext || !('serviceWorker' in navigator)) return;
  if (document.readyState === 'complete') void register();
  else addEventListener('load', () => void register(), { once: true });
}

async function register(): Promise<void> {
  try {
    await navigator.serviceWorker.register('/serviceWorker.js', { updateViaCache: 'none' });
  } catch {
    // A private window or a setting forbids it: the page works as it does without.
  }
}
