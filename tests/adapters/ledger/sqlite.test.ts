// The SQLite store passes the suite on real files.
import { openSqliteStore } from '../../../server/adapters/ledger/sqlite/openSqliteStore.ts';
import { describeLedger } from './ledgerSuite.ts';
import { newFile } from './temporaryFolder.ts';

describeLedger('the SQLite store', () => openSqliteStore({ file: newFile(), ledgerIdForNew: 'ledger-1' }));
