// Whether the focus stands where nobody put it: what had it went away.

/** Nowhere, or where the keeper of the focus left it for want of anything better. */
export function isAdrift(): boolean {
  return document.activeElement?.matches('body, [data-adrift]') ?? true;
}
