// A database whose n-th statement fails as a disk's error does: for what a store does below its port.
import type { DatabaseSyncInstance } from '@photostructure/sqlite';
import type { CallCounter } from './nthCall.ts';

const SQLITE_IOERR = 10;
const STATEMENT_CALLS: ReadonlySet<string | symbol> = new Set(['run', 'get', 'all', 'exec']);

/** The same database; each statement that is run is counted, and may fail. */
export function failDatabase(database: DatabaseSyncInstance, calls: CallCounter): DatabaseSyncInstance {
  return new Proxy(database, {
    get(target, name) {
      if (name === 'prepare') return (sql: string) => failStatement(target.prepare(sql), calls);
      return memberOf(target, { name, calls });
    },
  });
}

function failStatement<Statement extends object>(statement: Statement, calls: CallCounter): Statement {
  return new Proxy(statement, { get: (target, name) => memberOf(target, { name, calls }) });
}

function memberOf(
  target: object,
  { name, calls }: { readonly name: string | symbol; readonly calls: CallCounter },
): unknown {
  const member: unknown = Reflect.get(target, name, target);
  if (typeof member !== 'function') return member;
  const method = (member as (...given: unknown[]) => unknown).bind(target);
  if (!STATEMENT_CALLS.has(name)) return method;
  return (...given: unknown[]) => {
    if (calls.strikes()) throw Object.assign(new Error('disk I/O error'), { errcode: SQLITE_IOERR });
    return method(...given);
  };
}
