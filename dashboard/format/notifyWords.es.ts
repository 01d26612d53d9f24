// The same part of the catalogue in Spanish.
import type { notifyWordsEn } from './notifyWords.en.ts';
import { makeCounted } from './plural.ts';

const counted = makeCounted('es');

export const notifyWordsEs: typeof notifyWordsEn = {
  notify: {
    intro:
      'Los avisos salen de esta página por tres vías: a teléfonos, a otros programas y a una torre de luz.',
    trial: 'Probar',
    trialOf: (name) => `Probar ${name}`,
    trying: 'Probando…',
    tried: 'Ha llegado.',
    trialText: 'Una prueba: así llama el taller.',
    failed: (why) => `No ha llegado: ${why}.`,
    unanswered: 'La computadora del taller no ha respondido. Inténtelo de nuevo enseguida.',
    phones: 'Teléfonos y otros dispositivos',
    phonesNone:
      'Aún no se llama a ningún teléfono. Abra esta página en él por una dirección cifrada (https) y elija «Llamar a este dispositivo» en «Este dispositivo».',
    phoneOf: (who) => `Teléfono de ${who}`,
    phoneOfAll: 'Teléfono para las llamadas de todos',
    phoneFact: (of) => `${of.screens.join(', ')}; por ${of.service}`,
    phoneSince: (when) => `desde ${when}`,
    endPhone: 'Dejar de llamar',
    endPhoneOf: (name) => `Dejar de llamar: ${name}`,
    hooks: 'Otros programas (webhooks)',
    hooksNone:
      'Aún no se avisa a ningún programa. Agregue la dirección de uno que reciba mensajes, como la automatización del taller o un chat.',
    hookName: 'Nombre',
    hookUrl: 'Dirección',
    hookUrlHint: 'http:// o https://. Allí se envía cada aviso como JSON, y también su final.',
    hookEvents: 'Se le avisa de',
    hookKinds: {
      all: 'Todo',
      calls: 'Llamadas: aplicar, probar',
      warnings: 'Advertencias',
      own: 'Su propia selección',
    },
    addHook: 'Agregar un programa',
    removeHook: 'Quitar',
    removeHookOf: (name) => `Quitar ${name}`,
    secret: 'Nuevo secreto',
    secretOf: (name) => `Nuevo secreto para ${name}`,
    secretNone: 'aún sin secreto mostrado',
    secretSince: (when) => `secreto del ${when}`,
    secretShown: (name) =>
      `El secreto con el que ${name} sabe que un mensaje es nuestro. Se muestra solo esta vez: cópielo ahora. El anterior ya no vale.`,
    secretDone: 'Ya lo he copiado',
    lost: 'Lo que no ha llegado',
    lostNone: 'Nada: todo lo que había que decir se ha dicho.',
    waiting: (count) => counted(count, { one: '# mensaje espera.', other: '# mensajes esperan.' }),
    waitingSince: (minutes) =>
      counted(minutes, {
        one: 'El más antiguo espera desde hace # minuto.',
        other: 'El más antiguo espera desde hace # minutos.',
      }),
    lostLine: (of) => `«${of.what}» a ${of.to}`,
    lostEnd: (of) => `El final de «${of.what}» a ${of.to}`,
    lostWhy: (of) => counted(of.count, { one: `# intento: ${of.why}`, other: `# intentos: ${of.why}` }),
    again: 'Enviar de nuevo',
    againOf: (what) => `Enviar de nuevo: ${what}`,
    forget: 'Olvidar',
    forgetOf: (what) => `Olvidar: ${what}`,
    trouble: {
      timeout: 'sin respuesta en 10 segundos',
      unreachable: 'nadie responde en esa dirección',
      unknownHost: 'no hay ninguna computadora con ese nombre',
      forbiddenAddress: 'la dirección está dentro de la red del taller',
      tls: 'su certificado no es de fiar',
      redirect: (status) => `remite a otra dirección (${status})`,
      status: (status) => `respondió con ${status}`,
      gone: 'dice que allí ya no hay nadie',
    },
    light: 'Una torre de luz, por MQTT',
    lightHint:
      'Una torre de luz que hable MQTT escucha un tema por bahía. El mensaje se queda allí, de modo que la luz es correcta en cuanto se enciende:',
    lightWords: {
      off: 'allí no cura nada',
      wait: 'cura una capa',
      test: 'vale la pena probar una pieza',
      stop: 'una pieza está húmeda, demasiado fría o demasiado caliente',
    },
    batches: 'Cada mezcla abierta está allí también, como JSON, hasta que se cierra:',
  },
  push: {
    title: 'Con la página cerrada',
    screens: 'Se le llama para',
    screensOf: {
      bench: 'Banco: mis mezclas',
      floor: 'Banco y Taller',
      all: 'Todo',
    },
    call: 'Llamar a este dispositivo',
    stop: 'No llamar más a este dispositivo',
    on: 'Se llama a este dispositivo, también con la página cerrada.',
    onFor: (who) => `Recibe las llamadas de ${who}.`,
    onForAll: 'Recibe las llamadas de todos, porque arriba no se ha elegido a nadie.',
    off: 'Se le puede llamar con la página cerrada, mediante el servicio push del fabricante de este navegador. Lo que se dice va cifrado solo para este dispositivo.',
    busy: 'Un momento…',
    denied: 'Las notificaciones están bloqueadas en este navegador, así que no se le puede llamar.',
    insecure: 'Esta dirección no está cifrada, así que el navegador no permite llamar a este dispositivo.',
    unsupported:
      'A este navegador no se le puede llamar con la página cerrada. En un iPhone, ponga antes la página en la pantalla de inicio.',
    failed: 'No se ha podido alcanzar el servicio push del navegador. Inténtelo cuando haya internet.',
  },
};
