// The Spanish catalogue's part for everything that is turned down.
import { makeCounted } from './plural.ts';
import type { troubleWordsEn } from './troubleWords.en.ts';

const counted = makeCounted('es');

export const troubleWordsEs: typeof troubleWordsEn = {
  trouble: {
    network: 'No se envió: sin conexión. Queda guardado y se envía después.',
    server: 'La computadora del taller no pudo guardarlo. Queda aquí y se vuelve a intentar.',
    refused: 'La computadora del taller no lo aceptó.',
    rights: 'Este equipo no tiene permiso para eso.',
  },
  field: {
    aNumber: (example) => `un número como ${example}`,
    lookAgain: 'No se empezó: revise los campos marcados.',
  },
  rejection: {
    line: (reason, allowed) => (allowed === null ? `${reason}.` : `${reason} (${allowed}).`),
    between: (low, high) => `de ${low} a ${high}`,
    characters: (count) =>
      counted(count, { one: '# carácter como máximo', other: '# caracteres como máximo' }),
    instant: 'una fecha con hora',
    missing: 'Falta este dato',
    tooSmall: 'Es demasiado poco',
    tooLarge: 'Es demasiado',
    tooShort: 'Es demasiado corto',
    tooLong: 'Es demasiado largo',
    outOfRange: 'Queda fuera de lo posible',
    taken: 'Ya existe',
    notTimeZone: 'No es una zona horaria',
    takesNoTime: 'No es menos que el tiempo de lijado',
    tooNearSanding: 'Está demasiado cerca del tiempo de lijado: la mezcla tendría que endurecer de golpe',
    tooFarFromSanding:
      'Es demasiado corto para el tiempo de lijado: la mezcla tendría que fraguar más rápido de lo que endurece',
    notNumber: 'No es un número',
    notText: 'No es un texto',
    notChoice: 'No es una de las opciones',
    wrongForm: 'No tiene la forma correcta',
    wrongCharacter: 'Tiene un carácter que no se puede usar',
    unknownField: 'La computadora del taller no lo conoce',
    other: 'No se aceptó',
  },
  refusal: {
    'stage-wet': 'Esta mezcla aún estaba fresca: no hay nada que probar antes de que fragüe.',
    'stage-not-curing': 'Esta ya se está lijando.',
    'stage-not-sanding': 'Nadie ha empezado a lijar esta: primero diga «hace polvo».',
    'batch-closed': 'Esta mezcla ya está cerrada.',
    'already-spread': 'Esta mezcla ya está marcada como aplicada.',
    'same-bay': 'Esta mezcla ya está en esa bahía.',
    'before-mixing': 'Eso es antes de que se hiciera la mezcla.',
    'in-the-future': 'Esa hora aún no llega.',
    'too-long-ago': 'Eso queda demasiado atrás.',
    'out-of-order': 'Eso no concuerda con lo ya anotado.',
    'nothing-to-undo': 'No queda nada que deshacer.',
    'undo-not-latest': 'Solo se puede deshacer lo último.',
    'undo-too-late': 'Ya es tarde para deshacerlo.',
    'version-stale': 'Otros cambiaron esta mezcla: mírela otra vez.',
    'unknown-batch': 'No existe esa mezcla.',
    'unknown-bay': 'No existe esa bahía en este taller.',
    'unknown-card': 'No existe ese producto en este taller.',
    'unknown-lamp': 'No existe esa lámpara en este taller.',
    'unknown-distance': 'La lámpara no se midió a esa distancia.',
    'unknown-alert': 'No existe ese aviso.',
  },
};
