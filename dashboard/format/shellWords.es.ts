// The Spanish catalogue's part for the frame around the screens.
import { makeCounted } from './plural.ts';
import type { shellWordsEn } from './shellWords.en.ts';

const counted = makeCounted('es');

export const shellWordsEs: typeof shellWordsEn = {
  connection: {
    lost: 'Sin conexión. Las cuentas siguen desde la última estimación.',
    keptCount: (count) =>
      counted(count, {
        one: '# toque queda guardado y se envía después.',
        other: '# toques quedan guardados y se envían después.',
      }),
    dropped: (act, panel) =>
      `Demasiado viejo para enviarse tras 30 minutos: ${act}, ${panel}. Anótelo otra vez, por favor.`,
    degraded: 'Ahora no se puede guardar nada.',
    degradedKept: 'Los toques quedan aquí y se envían después.',
    store: {
      full: 'Disco lleno: no se guarda nada nuevo. Haga sitio en la computadora del taller.',
      'read-only': 'No se puede escribir en el disco: no se guarda nada nuevo. Permita la escritura.',
      locked: 'Otro programa tiene abierto el archivo del taller: no se guarda nada nuevo. Ciérrelo.',
      disk: 'Falla el disco: no se guarda nada nuevo. Haga revisar la computadora del taller.',
      damaged:
        'El archivo del taller está dañado: lo que anote puede perderse. Detenga el programa y restaure la última copia.',
      failed: 'Ahora no se puede guardar nada. Se vuelve a intentar solo.',
    },
    brokerGone:
      'Los sensores no entran por MQTT: las estimaciones siguen desde las últimas lecturas. Se vuelve a intentar solo.',
    outboxLate: 'Hace más de diez minutos que no llegan los mensajes a teléfonos o programas: vea Ajustes.',
    degradedHint:
      'La computadora del taller no puede leer ni guardar sus mezclas. Se vuelve a intentar solo.',
  },
  header: {
    air: 'Aire en las bahías',
    noAir: 'sin lectura',
    age: (minutes) => `de hace ${minutes} min`,
    menu: 'Preferencias',
    person: (initials) => (initials === null ? 'Todos' : initials),
    simulated: (speed) => `Taller simulado, ${speed}×`,
    simulatedRun: 'Usar su propio taller',
    skip: 'Ir a las mezclas',
    soundOn: 'Sonido activado',
    soundOff: 'Sonido desactivado',
    soundTap: 'Toque para activar el sonido',
    screens: 'Pantallas',
  },
  menu: {
    title: 'Este equipo',
    person: 'Quién lo usa',
    noPerson: 'Nadie en particular',
    personTyped: 'Otras iniciales',
    look: 'Claro u oscuro',
    lookAuto: 'Como el equipo',
    lookLight: 'Claro',
    lookDark: 'Oscuro',
    language: 'Idioma',
    languageAuto: 'Como el navegador',
    languageMissing: (language) =>
      `No se pudo cargar ${language}: sin conexión. Llega solo al volver la conexión.`,
    unitAuto: 'Como el taller',
    temperature: 'Temperatura',
    length: 'Espesor y longitud',
    lengthMetric: 'mm, cm',
    lengthInches: 'in',
    mass: 'Peso',
    alarm: 'Alarma',
    sound: 'Sonido y vibración',
    notify: 'Permitir notificaciones',
    trySound: 'Probar el sonido',
  },
  help: {
    title: 'Usar su propio taller',
    intro: 'Lo que ve es un taller inventado, más rápido que la vida real, para que pueda probarlo todo.',
    step: 'Detenga el programa y arránquelo con un archivo que describa su taller:',
    command: 'npm start -- --config config/shop.example.json',
    after:
      'Ese archivo tiene dos bahías y dos sensores y funciona tal como está. Ponga sus bahías, sus sensores, sus productos y su zona horaria.',
  },
};
