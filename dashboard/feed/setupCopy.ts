// The copy of everything: made whole by the server, then handed to the browser's downloads.
import { $accessDoubts } from '../state/access.ts';
import { $copy, type CopyState } from '../state/setup.ts';

const PATH = '/api/v1/backup';
const RUNNING_STATUS = 409;
const RIGHT_STATUSES: readonly number[] = [401, 403];
const NO_FILE_STATUS = 501;

/** Asks for a copy and saves it; tells on the way what becomes of it. */
export async function downloadCopy(): Promise<void> {
  if ($copy.peek().kind === 'making') return;
  $copy.value = { kind: 'making' };
  $copy.value = await fetchCopy();
}

async function fetchCopy(): Promise<CopyState> {
  try {
    const response = await fetch(PATH, { cache: 'no-store' });
    // Signed out meanwhile: Setup asks again who is there.
    if (RIGHT_STATUSES.includes(response.status)) $accessDoubts.value += 1;
    if (!response.ok) return { kind: whyNot(response.status) };
    const content = await response.blob();
    const name = fileNameIn(response.headers.get('content-disposition'));
    handOver(content, name);
    return { kind: 'done', name, sizeBytes: content.size };
  } catch {
    return { kind: 'network' };
  }
}

function whyNot(status: number): 'busy' | 'noFile' | 'failed' {
  if (status === RUNNING_STATUS) return 'busy';
  return status === NO_FILE_STATUS ? 'noFile' : 'failed';
}

function fileNameIn(disposition: string | null): string {
  return /filename="([^"]+)"/.exec(disposition ?? '')?.[1] ?? 'sandby.sqlite';
}

function handOver(content: Blob, name: string): void {
  const address = URL.createObjectURL(content);
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  // The browser has taken hold of it by the time the click returns.
  URL.revokeObjectURL(address);
}
