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
    more: (count) => `y ${count} más`,
    seenFor: (panel) => `Visto: ${panel}`,
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
