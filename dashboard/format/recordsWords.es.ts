// The Spanish catalogue's part for Records.
import { makeCounted } from './plural.ts';
import type { recordsWordsEn } from './recordsWords.en.ts';

const counted = makeCounted('es');
const batchesText = (count: number): string => counted(count, { one: '# mezcla', other: '# mezclas' });

export const recordsWordsEs: typeof recordsWordsEn = {
  records: {
    title: 'Registros',
    count: (count) => (count === 0 ? 'Ninguna mezcla' : batchesText(count)),
    matching: (count) =>
      count === 0
        ? 'Ninguna mezcla coincide'
        : counted(count, { one: '# mezcla encontrada', other: '# mezclas encontradas' }),
    loading: 'Leyendo los registros…',
    failed:
      'No se pudieron leer los registros. Quizá no hay conexión, o la computadora del taller está ocupada.',
    again: 'Leerlos otra vez',
    empty: 'Aún no hay nada guardado.',
    emptyHint: 'Haga una mezcla en Banco: desde que empieza, todo lo que le pasa queda aquí.',
    emptyAct: 'Ir a Banco',
    noMatch: 'Ninguna mezcla coincide.',
    noMatchHint: 'Quite un filtro, o mire otros días.',
    clear: 'Mostrar todo',
    older: 'Mostrar anteriores',
    table: 'Tabla (CSV)',
    print: 'Imprimir',
    back: 'Todos los registros',
    filters: {
      title: 'Filtro',
      active: (count) => `Filtro, ${count} en uso`,
      from: 'Desde el día',
      to: 'Hasta el día',
      product: 'Producto',
      bay: 'Bahía',
      by: 'Persona (iniciales)',
      text: 'Pieza, orden, cualquier texto',
      any: 'Cualquiera',
      find: 'Buscar',
      wrongSpan: 'Este día es posterior al último.',
      wrongText: (allowed) => (allowed === null ? 'No se buscó.' : `No se buscó: ${allowed}.`),
    },
    order: (order) => `OR ${order}`,
    openOrder: (order) => `Todo lo de la OR ${order} en una página`,
    noOrder: 'sin orden de reparación',
    unknownOrder: (order) => `No se hizo ninguna mezcla para la orden ${order}.`,
    promised: (clock) => `prometida para ${clock}`,
    whole: 'El registro completo',
    made: (product, thickness) => `${product}, ${thickness}`,
    gums: 'empasta',
    powders: 'hace polvo',
    band: (of) =>
      `Mezclada ${of.mixed}. La ventana de antes de la primera prueba iba de ${of.p10} a ${of.p90}, la mitad a las ${of.p50}. ${
        of.checks.length === 0 ? 'Sin prueba.' : `Pruebas: ${of.checks.join(', ')}.`
      }`,
    said: {
      untested: 'Aún sin prueba.',
      closedUntested: 'Cerrada sin prueba.',
      almostSurely: (share) => `más de ${share}`,
      hardly: (share) => `menos de ${share}`,
      gummed: 'empastó la lija',
      powdered: 'hizo polvo',
      first: (of) => `Primera prueba ${of.clock}: la ventana decía ${of.share}, ${of.outcome}`,
      firstBare: (of) => `Primera prueba ${of.clock}, sin ventana: ${of.outcome}`,
      later: (clock) => `Hizo polvo a las ${clock}`,
      early: 'antes de la ventana',
      inside: 'dentro de la ventana',
      late: 'después de la ventana',
    },
    part: {
      mix: 'Mezcla',
      air: 'Bahía y aire',
      times: 'Horas',
      checks: 'Pruebas a mano',
      people: 'Quién',
      window: 'Por qué esta ventana',
      cautions: 'Seguridad',
    },
    mix: {
      hardener: (pct, isWeighed) => `${pct} de endurecedor, ${isWeighed ? 'pesado' : 'por cordón'}`,
      underlay: (thickness) => `${thickness} de masilla debajo`,
      noUnderlay: 'sobre la pieza desnuda',
      lamp: (from, until) => `Lámpara de ${from} a ${until}`,
    },
    air: {
      mixing: (temperature, humidity) =>
        `${temperature}${humidity === null ? '' : `, ${humidity} de humedad`} al mezclar`,
      curing: (low, high) => `${low === high ? low : `de ${low} a ${high}`} mientras curaba`,
      none: 'Sin lecturas de esta bahía.',
      moved: (bay, clock) => `movida a ${bay} a las ${clock}`,
    },
    times: {
      mixed: 'Mezclada',
      spread: 'Aplicada',
      window: 'Ventana',
      windowText: (p10, p50, p90) => `${p10} – ${p50} – ${p90}`,
      windowHint: 'una de diez, mitad, nueve de diez',
      alert: 'Aviso de probar',
      sanding: 'Se empezó a lijar',
      sanded: 'Lijada',
      scrapped: 'Desechada',
    },
    checks: {
      none: 'Ninguna.',
      firstTry: 'a la primera',
      notFirstTry: 'no a la primera',
      line: (of) => [of.clock, of.outcome, of.tries, of.by].filter((part) => part !== null).join(', '),
    },
    people: {
      mixed: 'Mezcló',
      spread: 'Aplicó',
      closed: 'Cerró',
      nobody: 'Nadie firmó.',
    },
    cautions: (clock, by) => `Aceptados con Empezar a las ${clock}${by === null ? '' : ` por ${by}`}.`,
    estimates: {
      title: 'Qué tan buenas fueron las estimaciones',
      intro:
        'Antes de cada primera prueba: qué tan segura estaba la ventana, frente a cuántas veces hizo polvo.',
      none: 'Aún no se ha probado ninguna mezcla cerrada. Diga «empasta» o «hace polvo» en cada prueba, y esto se llena solo.',
      picture: (lines) =>
        `Probabilidad anunciada frente a cuántas veces hizo polvo, con límites del 95 %. ${lines.join(' ')}`,
      pictureBin: (of) =>
        `Anunciado de ${of.from} a ${of.to}: ${of.powderedCount} de ${of.count} hicieron polvo, límites de ${of.low} a ${of.high}.`,
      stated: 'la ventana decía',
      happened: 'hizo polvo',
      perfect: 'como se prometió',
      ofCount: (powdered, count) => `${powdered}/${count}`,
      promise: (powderedCount, count) =>
        `${powderedCount} de ${count} capas hicieron polvo en su primera prueba después del aviso`,
      promiseShare: (of) =>
        `${of.share}, probablemente entre ${of.low} y ${of.high}; el taller pide ${of.asked}.`,
      promiseNone: 'Aún no se ha probado ninguna capa después de un aviso de «probar».',
      errors: 'Error de «ya hace polvo»',
      errorsHint: (halfScore) =>
        `Puntaje de Brier: 0 es perfecto; decir siempre mitad y mitad da ${halfScore}.`,
      windows: 'estas ventanas',
      timer: 'un reloj con los minutos de la lata',
      doubling: 'la regla del doble',
      unknown: 'aún no se sabe',
      tableOpen: 'Lo mismo en una tabla',
      column: {
        said: 'Anunciado',
        mean: 'En promedio',
        powdered: 'Hizo polvo',
        bounds: 'Límites del 95 %',
      },
    },
  },
};
