// Sends one kept entry under its key.
import type { Kept, KeptBody } from '../state/kept.ts';
import { postJson, type Answer } from './http.ts';

/** Posts an entry; the same entry always goes out with the same key and body. */
export async function postCommand(entry: Kept): Promise<Answer> {
  return postJson(pathOf(entry.body), contentOf(entry.body), entry.key);
}

function pathOf(body: KeptBody): string {
  switch (body.kind) {
    case 'command':
      return `/batches/${encodeURIComponent(body.batchId)}/commands`;
    case 'start':
      return '/batches';
    case 'acknowledgement':
      return `/alerts/${encodeURIComponent(body.alertId)}/acknowledgement`;
  }
}

function contentOf(body: KeptBody): unknown {
  switch (body.kind) {
    case 'command':
      return body.command;
    case 'start':
      return body.start;
    case 'acknowledgement':
      return {};
  }
}
