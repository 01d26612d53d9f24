// The worker's part in calling a phone: what a notification says in each language, one an alert, closed with it.
import { describe, expect, it } from 'vitest';
import { workerWords } from '../../../config/workerWords.ts';
import { noticeText, takePush, type WorkerWords } from '../../../dashboard/feed/workerPush.ts';
import { ALERT_KINDS, type PushMessage } from '../../../server/contract/index.ts';

const words = workerWords() as WorkerWords;

function message(parts: Partial<PushMessage> = {}): PushMessage {
  return {
    id: 'a',
    message: 'raised',
    kind: 'test',
    name: 'Left door',
    subjectCount: 1,
    language: 'en',
    ...parts,
  };
}

/** Notifications as a browser keeps them: one a tag. */
function makeNotices() {
  const shown = new Map<string, { text: string; options: Record<string, unknown> }>();
  return {
    shown,
    showNotification: async (text: string, options: object) =>
      void shown.set((options as { tag: string }).tag, { text, options: { ...options } }),
    getNotifications: async ({ tag }: { readonly tag: string }) =>
      shown.has(tag) ? [{ close: () => void shown.delete(tag) }] : [],
  };
}

describe('a notification', () => {
  it.each<[Partial<PushMessage>, string]>([
    [{}, 'Test Left door'],
    [{ language: 'es' }, 'Probar Left door'],
    [{ kind: 'condensation', subjectCount: 4 }, '4 panels are damp'],
    [{ kind: 'sensorQuiet', name: 'bay-1-air', language: 'es' }, 'El sensor bay-1-air no dice nada'],
    [{ kind: 'sensorQuiet', subjectCount: 12, language: 'es' }, '12 sensores no dicen nada'],
    [{ message: 'trial', kind: null }, 'A trial: the shop calls like this.'],
  ])('of %j says “%s”', (parts, text) => {
    expect(noticeText(message(parts), words)).toBe(text);
  });

  it.each(ALERT_KINDS)('of kind %s names what it is about in both languages', (kind) => {
    for (const language of ['en', 'es'] as const) {
      const text = noticeText(message({ kind, language }), words);
      expect(text).toContain('Left door');
      expect(text).not.toMatch(/[⟨⟩]|undefined/);
      expect(noticeText(message({ kind, language, subjectCount: 2 }), words)).not.toMatch(/[⟨⟩]|undefined/);
    }
  });

  it('is shown once an alert, stays for a call, changes silently, and goes with the alert', async () => {
    const notices = makeNotices();
    const take = (parts: Partial<PushMessage>): Promise<void> => takePush(message(parts), { notices, words });
    await take({});
    await take({ id: 'b', kind: 'tooCold', language: 'es' });
    expect(notices.shown.get('a')?.options).toMatchObject({
      lang: 'en',
      requireInteraction: true,
      silent: false,
    });
    expect(notices.shown.get('b')?.options).toMatchObject({ lang: 'es', requireInteraction: false });
    await take({ id: 'b', kind: 'tooCold', subjectCount: 3, message: 'changed' });
    expect(notices.shown.get('b')).toMatchObject({
      text: '3 panels are too cold',
      options: { silent: true },
    });
    await take({ message: 'withdrawn' });
    await take({ id: 'never', message: 'withdrawn' });
    expect([...notices.shown.keys()]).toEqual(['b']);
  });

  it('is not made of what is none of ours', async () => {
    const notices = makeNotices();
    for (const odd of [null, 'text', 7, {}, { id: 'a' }]) await takePush(odd, { notices, words });
    expect(notices.shown.size).toBe(0);
  });
});
