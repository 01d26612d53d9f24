// The tables of the file of keys, step by step: a step is never changed once a shop has run it; a new one is added below it.
import type { Schema } from './migrations.ts';

/** Who may use the shop. Tokens and passwords stand only as hashes. */
const ACCESS = `
CREATE TABLE passphrase (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  hash TEXT NOT NULL,
  changed_at INTEGER NOT NULL,
  -- Whether the shop's ledger has been told of this change.
  is_told INTEGER NOT NULL CHECK (is_told IN (0, 1))
) STRICT;

CREATE TABLE devices (
  id TEXT NOT NULL PRIMARY KEY,
  name TEXT NOT NULL,
  -- view or work
  access_right TEXT NOT NULL,
  token_hash TEXT NOT NULL UNIQUE,
  paired_at INTEGER NOT NULL,
  seen_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE sensor_users (
  name TEXT NOT NULL PRIMARY KEY,
  -- sensor or reader
  kind TEXT NOT NULL,
  password_hash TEXT NOT NULL,
  -- JSON list of sensor ids
  sensor_ids TEXT NOT NULL,
  made_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
`;

/** What the way out to phones and programs needs; secrets of webhooks must be there in plain, since they sign. */
const PUSH = `
CREATE TABLE push_keys (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  public_key TEXT NOT NULL,
  private_key TEXT NOT NULL
) STRICT;

CREATE TABLE subscriptions (
  id TEXT NOT NULL PRIMARY KEY,
  endpoint TEXT NOT NULL UNIQUE,
  p256dh TEXT NOT NULL,
  auth TEXT NOT NULL,
  language TEXT NOT NULL,
  person TEXT,
  -- JSON list of screens
  screens TEXT NOT NULL,
  device_id TEXT,
  since_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX subscriptions_of_device ON subscriptions (device_id);

CREATE TABLE webhook_secrets (
  webhook_id TEXT NOT NULL PRIMARY KEY,
  secret TEXT NOT NULL,
  made_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
`;

/** The file's schema; its header says "SKEY". */
export const KEY_SCHEMA: Schema = { applicationId: 0x53_4b_45_59, steps: [ACCESS, PUSH] };
