// What people do with the copies that are kept beside the store.
import { askForCopy, followKeptCopies } from '../feed/keptCopies.ts';

/** Keeps the list of copies fresh until the returned function is called. */
export function keepCopiesShown(): () => void {
  return followKeptCopies();
}

/** Has a copy made and kept on the shop's computer. */
export function makeCopyNow(): void {
  void askForCopy();
}
