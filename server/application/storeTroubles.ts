// What a store in trouble does to the shop: health says what is wrong in words, screens hear of it once each way, and a store
// that nobody writes to is tried until it takes something again.
import type { PortFailure, StoreTrouble } from './ports/portFailure.ts';
import type { Shop, Trouble } from './shop.ts';
import type { StoreWatch } from './watchStore.ts';

/** One log line each way, and one word to the screens each time that what is wrong changes, however many calls fail in between. */
export function makeStoreWatch(
  troubles: Shop['troubles'],
  { log, live, counters }: Pick<Shop, 'log' | 'live' | 'counters'>,
): StoreWatch {
  return {
    failed(failure) {
      const { port, operation, trouble } = failure;
      counters.add('sandby_port_failures_total', { port, operation });
      if (trouble === 'damaged') noteDamage({ troubles, log, live }, WORDS.damaged);
      const before = troubles.get('ledger');
      const now = troubleOf(failure);
      troubles.set('ledger', now);
      if (before === undefined) log.error('store.failed', { port, operation, reason: String(failure.cause) });
      if (before?.code !== now.code) live.publishResync();
    },
    stored() {
      if (!troubles.delete('ledger')) return;
      log.info('store.back', {});
      live.publishResync();
    },
  };
}

/** Damage passes by no write: it stands until the program is started over a whole store. */
export function noteDamage(
  { troubles, log, live }: Pick<Shop, 'troubles' | 'log' | 'live'>,
  sentence: string,
): void {
  if (troubles.has('integrity')) return;
  troubles.set('integrity', {
    code: 'damaged',
    sentence: `${sentence}; stop the program and restore the newest good copy`,
  });
  log.error('store.damaged', { sentence });
  live.publishResync();
}

/** Proves that a store in trouble can be written again; its watch hears of it. To be called where failures are borne. */
export async function probeStore({ troubles, ledger }: Pick<Shop, 'troubles' | 'ledger'>): Promise<void> {
  if (troubles.has('ledger')) await ledger.probe();
}

function troubleOf({ trouble, message }: PortFailure): Trouble {
  return trouble === null
    ? { code: 'failed', sentence: message }
    : { code: trouble, sentence: WORDS[trouble] };
}

const WORDS: Readonly<Record<StoreTrouble, string>> = {
  full: 'the disk is full: nothing more can be stored until there is room',
  'read-only': 'the store cannot be written: its disk or folder is read-only',
  locked: 'another program holds the store',
  damaged: 'the store is damaged',
  disk: 'the disk does not read or write as it should',
};
