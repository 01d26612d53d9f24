// The Spanish catalogue’s part for copies that are kept beside the store.
import type { copyWordsEn } from './copyWords.en.ts';
import { makeCounted } from './plural.ts';

const counted = makeCounted('es');
const stay = (count: number): string =>
  counted(count, { one: 'Se conserva la última', other: 'Se conservan las últimas #' });

export const copyWordsEs: typeof copyWordsEn = {
  keptCopies: {
    title: 'Guardadas en esta computadora',
    daily: (of) =>
      `Cada día a las ${of.time} el taller hace una copia solo. ${stay(of.count)}, en la carpeta «${of.folder}».`,
    everyDays: (of) =>
      `Cada ${counted(of.dayCount, { one: 'día', other: '# días' })} a las ${of.time} el taller hace una copia solo. ${stay(of.count)}, en la carpeta «${of.folder}».`,
    everyHours: (of) =>
      `Cada ${of.hours} h el taller hace una copia solo. ${stay(of.count)}, en la carpeta «${of.folder}».`,
    last: 'Última copia buena',
    none: 'todavía ninguna',
    next: 'La próxima',
    soon: 'en unos minutos',
    line: (of) => `${of.when} · ${of.size}`,
    make: 'Hacer una copia ahora',
    making: 'Haciendo una copia…',
    kept: (when) => `La copia del ${when} es buena y está guardada.`,
    failed: (of) => `El ${of.when} no se pudo hacer la copia: ${of.why} Se vuelve a intentar solo.`,
    why: {
      noRoom: 'queda muy poco espacio en el disco.',
      notWritten: 'no se puede escribir en su carpeta.',
      damaged: 'lo copiado está dañado. Restaure la última copia buena.',
      unfinished: 'se interrumpió.',
    },
    noAnswer: 'Sin conexión con la computadora del taller. Inténtelo cuando vuelva.',
    list: (count) => counted(count, { one: 'La única copia', other: 'Las # copias' }),
    download: 'Descargar',
    downloadOf: (when) => `Descargar la copia del ${when}`,
    restore:
      'Para volver a una, detenga el programa en la computadora del taller y ejecute «npm run --silent restore -- ARCHIVO». Lo que hay ahora queda guardado al lado.',
  },
};
