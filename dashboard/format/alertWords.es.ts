// The Spanish catalogue's part for alerts.
import type { alertWordsEn } from './alertWords.en.ts';
import { makeCounted } from './plural.ts';

const counted = makeCounted('es');

export const alertWordsEs: typeof alertWordsEn = {
  alert: {
    title: 'Avisos',
    test: (panel) => `Probar ${panel}`,
    spreadBy: (panel) => `${panel} fragua pronto`,
    waiting: (panel) => `${panel} espera su prueba`,
    slowing: (panel) => `${panel} tarda más de lo previsto`,
    condensation: (panel) => `${panel}: humedad; seque y caliente antes de aplicar`,
    tooCold: (panel) => `${panel}: demasiado fría; caliente la pieza`,
    tooHot: (panel) => `${panel} se calienta demasiado bajo la lámpara`,
    sensorQuiet: (sensor) => `El sensor ${sensor} no dice nada`,
    sensorBack: (sensor) => `El sensor ${sensor} ha vuelto`,
    since: (clock) => `desde las ${clock}`,
    moved: (from, to) => `probar hacia las ${to} en vez de las ${from}`,
    movedAway: (from) => `no se puede dar hora en vez de las ${from}`,
    more: (count) => `y ${count} más`,
    fewer: 'Mostrar menos',
    outside: (count) =>
      counted(count, {
        one: 'Hay # aviso más fuera de los filtros.',
        other: 'Hay # avisos más fuera de los filtros.',
      }),
    seenFor: (panel) => `Visto: ${panel}`,
  },
  alarm: {
    lockedBrief: 'Sin sonido hasta un toque.',
    locked: 'Este navegador no suena hasta que alguien toque.',
    lockedWall: 'Sin sonido hasta que se pulse una tecla aquí',
    letRing: 'Permitir que suene',
    shopSilent: 'El sonido de todo el taller está desactivado en los ajustes del taller.',
    noSound: 'Este navegador no puede sonar: la alarma son la pantalla de pared y la torre de luz.',
    notify: {
      on: 'Las notificaciones están activadas: llegan mientras esta página está en segundo plano.',
      ask: 'Las notificaciones llegan mientras esta página está en segundo plano, si las permite.',
      denied:
        'Este navegador tiene bloqueadas las notificaciones. Se permiten en los ajustes del sitio. Mientras tanto, la alarma son el sonido de aquí, la pantalla de pared y la torre de luz.',
      insecure:
        'Esta dirección no está cifrada, así que el navegador no permite ni notificaciones ni mantener encendida la pantalla. La alarma son el sonido de aquí, la pantalla de pared y la torre de luz.',
      unsupported:
        'Este navegador no tiene notificaciones: la alarma son el sonido de aquí, la pantalla de pared y la torre de luz.',
    },
  },
  alertOfMany: {
    waiting: (count) =>
      counted(count, { one: '# pieza espera su prueba', other: '# piezas esperan su prueba' }),
    slowing: (count) =>
      counted(count, {
        one: '# pieza tarda más de lo previsto',
        other: '# piezas tardan más de lo previsto',
      }),
    condensation: (count) => counted(count, { one: '# pieza con humedad', other: '# piezas con humedad' }),
    tooCold: (count) => counted(count, { one: '# pieza demasiado fría', other: '# piezas demasiado frías' }),
    tooHot: (count) =>
      counted(count, {
        one: '# pieza se calienta demasiado bajo la lámpara',
        other: '# piezas se calientan demasiado bajo las lámparas',
      }),
    sensorQuiet: (count) =>
      counted(count, { one: '# sensor no dice nada', other: '# sensores no dicen nada' }),
    sensorBack: (count) => counted(count, { one: '# sensor ha vuelto', other: '# sensores han vuelto' }),
  },
};
