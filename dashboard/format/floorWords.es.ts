// The Spanish catalogue's part for Floor.
import type { floorWordsEn } from './floorWords.en.ts';
import { makeCounted } from './plural.ts';

const counted = makeCounted('es');

export const floorWordsEs: typeof floorWordsEn = {
  floor: {
    panels: 'Piezas',
    nextHands: 'Próximas manos',
    inHand: 'En manos',
    order: 'Orden',
    byPromise: 'Por promesa',
    byBay: 'Por bahía',
    bay: 'Bahía',
    allBays: 'Todas las bahías',
    person: 'Persona',
    everyone: 'Todos',
    wall: 'Pared',
    wallHint: 'Llena la pantalla, sin controles. Esc regresa.',
    onlyShown: (what) => `Solo ${what}`,
    page: (index, count) => `${index} de ${count}`,
    empty: 'Nada está curando.',
    emptyHint: 'Haga una mezcla y aparece aquí con su ventana.',
    filtered: 'Aquí no hay piezas abiertas.',
    filteredHint: 'Hay otras abiertas detrás de los filtros.',
    showAll: 'Mostrar todas las piezas',
    planPending: 'Calculando a quién se necesita primero…',
    planNone: 'No se necesita a nadie.',
    planMore: (count) => `y ${count} más`,
    dangerCount: (count) => counted(count, { one: '# promesa en riesgo', other: '# promesas en riesgo' }),
    noDanger: 'Ninguna promesa en riesgo',
    open: (panel) => `Más sobre ${panel}`,
    now: 'ahora',
    nowLine: (clock) => `ahora ${clock}`,
    duration: (of) =>
      of.hourCount === 0
        ? `${of.minutes} min`
        : of.minutes === 0
          ? `${of.hourCount} h`
          : `${of.hourCount} h ${of.minutes} min`,
    need: {
      spread: 'aplicar',
      test: 'probar',
      waiting: 'probar',
      sanding: 'se está lijando',
      unknown: 'sin hora aún',
    },
    since: (minutes) => `espera ${minutes} min`,
    inMinutes: (minutes) => `en ${minutes} min`,
    promise: (clock) => `prometida ${clock}`,
    spare: (duration) => `sobran ${duration}`,
    late: (duration) => `${duration} tarde`,
    tight: (duration) => `quizá ${duration} tarde`,
    lateFor: (duration, clock) => `${duration} tarde para las ${clock}`,
    tightFor: (duration, clock) => `Quizá ${duration} tarde para las ${clock}`,
    handsFor: (of) => `${of.duration} tarde para las ${of.clock} si ${of.who} lo hace todo`,
    help: 'Qué ayudaría',
    lamp: (lamp, duration) => `${lamp}: lista ${duration} antes`,
    lampAt: (of) => `${of.lamp} a ${of.distance}: lista ${of.duration} antes`,
    warmBay: (bay, duration) => `${bay} está más caliente: lista ${duration} antes`,
    moreHands: ({ names, count }, duration) =>
      `Más manos, ${names} también las ${counted(count, { one: 'necesita', other: 'necesitan' })}: lista ${duration} antes`,
    moreHandsNear: ({ names, count }) =>
      `Más manos, ${names} ${counted(count, { one: 'necesita', other: 'necesitan' })} a alguien en los mismos minutos`,
    noHelp: 'Aquí ni lámpara ni bahía ni manos alcanzarían. Avise pronto al cliente.',
    and: ' y ',
    checks: { gums: (clock) => `empastó ${clock}`, powders: (clock) => `hizo polvo ${clock}` },
    mixedAt: (clock) => `mezclada ${clock}`,
    testLikely: (span) => `prueba probable ${span}`,
    partsAt: (build, edge) => `cuerpo ${build}, borde ${edge}`,
    doneAt: (clock) => `lista hacia las ${clock}`,
    legend: {
      window: 'prueba probable',
      rest: 'trabajo restante',
      flag: 'promesa',
      gums: 'empastó',
    },
  },
};
