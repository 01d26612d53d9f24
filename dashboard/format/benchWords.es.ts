// The same in Spanish: plain timer temporizador simple · guide coat capa guía · primer imprimante · seam sealer sellador de juntas.
import type { benchWordsEn } from './benchWords.en.ts';

export const benchWordsEs: typeof benchWordsEn = {
  timer: {
    title: 'Temporizador simple',
    badge: 'Temporizador simple, sin cálculo',
    where: 'Cuenta solo en este equipo: las otras pantallas no lo conocen.',
    intro:
      'Para lo que este programa no puede calcular. Cuenta los minutos que usted diga, haga lo que haga el aire.',
    what: 'Para qué',
    kinds: ['Imprimante', 'Masilla de un componente', 'Capa guía', 'Sellador de juntas'],
    other: 'Otra cosa',
    minutes: 'Minutos',
    otherMinutes: 'Otros minutos',
    start: 'Iniciar el temporizador',
    nameMissing: 'diga para qué es',
    lookAgain: 'No se inició: revise los campos marcados.',
    lead: 'termina en',
    up: 'Se cumplió',
    upFor: (minutes) => (minutes === 0 ? 'ahora mismo' : `hace ${minutes} min`),
    of: (minutes, clock) => `${minutes} min, hasta las ${clock}`,
    upText: (name) => `${name}: se cumplió el tiempo`,
    stop: 'Parar',
    done: 'Listo',
    more: '5 min más',
    started: (name) => `${name}: temporizador iniciado`,
    stopped: (name) => `${name}: temporizador parado`,
    extended: (name) => `${name}: 5 minutos más`,
  },
  closed: {
    title: 'Recién terminado',
    sanded: (clock) => `lijada ${clock}`,
    scrapped: (clock) => `desechada ${clock}`,
    layer: 'Siguiente capa',
    layerFor: (panel) => `Siguiente capa en ${panel}`,
    undoFor: (panel) => `Deshacer, ${panel}`,
  },
  quicker: {
    somebody: 'Otro equipo',
    was: (of) => `${of.who} se adelantó: «${of.act}» a las ${of.clock}. Su «${of.yours}» no se guardó.`,
    tookBack: (yours) => `Alguien deshizo algo entretanto. Su «${yours}» no se guardó: vuelva a mirar.`,
  },
  awake: {
    insecure:
      'La dirección no está cifrada: esta pantalla puede apagarse mientras cuenta. Alargue su tiempo de pantalla; esté atento al sonido.',
    refused:
      'Esta pantalla puede apagarse mientras cuenta. Alargue su tiempo de pantalla; esté atento al sonido.',
    understood: 'Enterado',
  },
};
