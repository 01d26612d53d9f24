// What Setup says of the ways out: why something did not get through, what it was, whose phone it is.
import type { DeliveryTrouble, GivenUpWire, NotificationsWire } from '../../server/contract/index.ts';
import type { Words } from './words.en.ts';

type Phone = NotificationsWire['phones'][number];

/** Why a message did not get through. */
export function troubleText({ code, status }: DeliveryTrouble, { notify }: Words): string {
  const { trouble } = notify;
  if (code === 'redirect' || code === 'status') return trouble[code](status ?? 0);
  return trouble[code];
}

/** The sentence of what did not get through, and to whom it was. */
export function lostText(lost: GivenUpWire, words: Words): string {
  const { notify, alert, alertOfMany } = words;
  const { kind, name, subjectCount } = lost;
  const isFolded = subjectCount > 1 && kind !== 'spreadBy' && kind !== 'test';
  const what = isFolded ? alertOfMany[kind](subjectCount) : alert[kind](name ?? '');
  const of = { what, to: lost.channelName ?? phoneName(lost, words) };
  return lost.message === 'withdrawn' ? notify.lostEnd(of) : notify.lostLine(of);
}

/** Whose phone it is. */
export function phoneName({ person }: Pick<Phone, 'person'>, { notify }: Words): string {
  return person === null ? notify.phoneOfAll : notify.phoneOf(person);
}
