// The store in memory passes the suite.
import { makeMemoryStore } from '../../../server/adapters/ledger/memory/makeMemoryStore.ts';
import { describeLedger } from './ledgerSuite.ts';

describeLedger('the store in memory', makeMemoryStore);
