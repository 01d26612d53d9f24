// The worker's part in calling a phone: shows what a push message says, in the phone's language, and closes it when it is over.
// Part of the service worker alone: nothing of the pages may import it.
import type { AlertKind } from '../../server/contract/alertTerms.ts';
import type { PushMessage } from '../../server/contract/deliver.ts';

/** What the build puts in front of the worker. */
export type WorkerWords = Readonly<
  Record<
    PushMessage['language'],
    {
      readonly trial: string;
      readonly kinds: Readonly<Record<AlertKind, { readonly one: string; readonly many: string | null }>>;
    }
  >
>;

export interface WorkerNotices {
  showNotification(text: string, options: object): Promise<void>;
  getNotifications(of: { readonly tag: string }): Promise<readonly { close(): void }[]>;
}

/** Takes one message; what cannot be read shows nothing. */
export async function takePush(
  message: unknown,
  { notices, words }: { readonly notices: WorkerNotices; readonly words: WorkerWords },
): Promise<void> {
  if (!isMessage(message)) return;
  const { id, language } = message;
  if (message.message === 'withdrawn') {
    for (const notice of await notices.getNotifications({ tag: id })) notice.close();
    return;
  }
  await notices.showNotification(noticeText(message, words), {
    tag: id,
    lang: language,
    icon: '/icon-192.png',
    badge: '/icon-192.png',
    // A call stays until somebody looks; what only changed makes no sound again.
    requireInteraction: message.kind === 'test' || message.kind === 'spreadBy',
    silent: message.message === 'changed',
  });
}

/** What a notification says. */
export function noticeText({ kind, name, subjectCount, language }: PushMessage, words: WorkerWords): string {
  const { trial, kinds } = words[language];
  if (kind === null) return trial;
  const { one, many } = kinds[kind];
  return subjectCount > 1 && many !== null
    ? many.replace('⟨count⟩', String(subjectCount))
    : one.replace('⟨name⟩', name);
}

function isMessage(message: unknown): message is PushMessage {
  return (
    typeof message === 'object' &&
    message !== null &&
    'id' in message &&
    'message' in message &&
    'language' in message
  );
}
