// What changes in Setup are called: bays, sensors and products by the names that people gave them.
import type { TouchNaming } from '../../format/setupText.ts';
import { $place, namingOf } from '../../state/computed.ts';
import { $sensorList } from '../../state/setup.ts';
import { $live, $words } from '../../state/sources.ts';

/** The names of now. */
export function touchNaming(): TouchNaming {
  const list = $sensorList.value;
  const sensors = typeof list === 'string' ? [] : list.sensors;
  return {
    words: $words.value,
    place: $place.value,
    bayName: namingOf('').bayName,
    sensorName: (sensorId) => sensors.find(({ id }) => id === sensorId)?.name ?? sensorId,
    cardName: (cardId) => $live.value?.cards.find(({ id }) => id === cardId)?.name ?? cardId,
  };
}
