// A transaction is kept whole or not at all, whatever it fails at.
import { DatabaseSync } from '@photostructure/sqlite';
import { expect, it, onTestFinished } from 'vitest';
import { inTransaction } from '../../../../server/adapters/ledger/sqlite/inTransaction.ts';

function newDatabase() {
  const database = new DatabaseSync(':memory:');
  onTestFinished(() => database.close());
  database.exec(`CREATE TABLE parent (id INTEGER PRIMARY KEY);
    CREATE TABLE child (parent_id INTEGER REFERENCES parent (id) DEFERRABLE INITIALLY DEFERRED)`);
  return database;
}

it('gives back what the work gave and keeps what it wrote', () => {
  const database = newDatabase();
  expect(inTransaction(database, () => database.prepare('INSERT INTO parent VALUES (7)').run().changes)).toBe(
    1,
  );
  expect(database.prepare('SELECT * FROM parent').all()).toEqual([{ id: 7 }]);
});

it('keeps nothing when the work throws after it wrote', () => {
  const database = newDatabase();
  const work = () => {
    database.exec('INSERT INTO parent VALUES (7)');
    throw new Error('no more');
  };
  expect(() => inTransaction(database, work)).toThrow('no more');
  expect(database.isTransaction).toBe(false);
  expect(database.prepare('SELECT * FROM parent').all()).toEqual([]);
});

it('keeps nothing when the commit itself fails', () => {
  const database = newDatabase();
  const work = () => database.exec('INSERT INTO child VALUES (1)');
  expect(() => inTransaction(database, work)).toThrow('FOREIGN KEY constraint failed');
  expect(database.isTransaction).toBe(false);
  expect(database.prepare('SELECT * FROM child').all()).toEqual([]);
});

it('ends a transaction that was left open before it begins its own', () => {
  const database = newDatabase();
  database.exec('BEGIN; INSERT INTO parent VALUES (1)');
  inTransaction(database, () => database.exec('INSERT INTO parent VALUES (2)'));
  expect(database.prepare('SELECT * FROM parent').all()).toEqual([{ id: 2 }]);
});
