// A store that lives as long as the process: for replays, previews and tests.
import { randomUUID } from 'node:crypto';
import type { AirTable } from '../../../application/ports/airTable.ts';
import type { Ledger } from '../../../application/ports/ledger.ts';
import type { PortName } from '../../../application/ports/portFailure.ts';
import { type Attempt, makeAttempt } from '../attempt.ts';
import { makeMemoryAir } from './makeMemoryAir.ts';
import { makeMemoryLedger } from './makeMemoryLedger.ts';

/** Makes an empty ledger with its air table; closing the ledger closes both. */
export function makeMemoryStore(): { ledger: Ledger; air: AirTable } {
  let isOpen = true;
  const whileOpen = (port: PortName): Attempt => {
    const attempt = makeAttempt(port, () => false);
    return (operation, work) =>
      attempt(operation, () => {
        if (!isOpen) throw new Error('the store is closed');
        return work();
      });
  };
  const ledger = makeMemoryLedger({
    ledgerId: randomUUID(),
    attempt: whileOpen('ledger'),
    onClose: () => {
      isOpen = false;
    },
  });
  return { ledger, air: makeMemoryAir(whileOpen('air')) };
}
