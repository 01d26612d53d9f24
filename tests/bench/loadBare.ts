// The least that could do the storing and telling: a bare broker whose publish waits for one synced row in SQLite.
import { createServer } from 'node:net';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from '@photostructure/sqlite';
import { Aedes } from 'aedes';

/** Serves until the run lets go; says its port first, and how many rows it holds when asked. */
export async function runBare(): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'sandby-bare-'));
  const database = new DatabaseSync(join(folder, 'bare.sqlite'));
  database.exec(`PRAGMA journal_mode = WAL; PRAGMA synchronous = FULL;
    CREATE TABLE rows (topic TEXT, at TEXT, payload TEXT, PRIMARY KEY (topic, at)) WITHOUT ROWID`);
  const add = database.prepare('INSERT OR IGNORE INTO rows VALUES (?, ?, ?)');
  const broker = await Aedes.createBroker({
    authorizePublish: (_client, { topic, payload }, callback) => {
      const text = payload.toString();
      add.run(topic, (JSON.parse(text) as { at: string }).at, text);
      callback(null);
    },
  });
  const server = createServer(broker.handle as Parameters<typeof createServer>[1]);
  server.listen(0, '127.0.0.1', () => process.send?.((server.address() as { port: number }).port));
  process.on('message', () => {
    process.send?.((database.prepare('SELECT count(*) AS count FROM rows').get() as { count: number }).count);
  });
  process.on('disconnect', () => {
    rmSync(folder, { recursive: true, force: true });
    process.exit(0);
  });
}
