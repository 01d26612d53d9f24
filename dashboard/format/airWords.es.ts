// The Spanish catalogue's part for Air.
import type { airWordsEn } from './airWords.en.ts';
import { makeCounted } from './plural.ts';

const counted = makeCounted('es');

export const airWordsEs: typeof airWordsEn = {
  airScreen: {
    bay: 'Bahía',
    span: 'Periodo',
    day: 'Día',
    week: 'Semana',
    before: { day: 'Día anterior', week: 'Semana anterior' },
    after: { day: 'Día siguiente', week: 'Semana siguiente' },
    loading: 'Leyendo el aire…',
    working: 'Calculando…',
    network: 'Sin conexión: ahora no se puede leer el aire. Se vuelve a intentar solo.',
    server: 'La computadora del taller no puede leer el aire ahora. Se vuelve a intentar solo.',
    noBays: 'Este taller aún no tiene bahías. Ponga una en el archivo de configuración, en "bays".',
    noReadings: (when, bay) => `${when}: sin lecturas en ${bay}.`,
    noReadingsHint: 'En Ajustes se ve qué sensores se han reportado y cómo conectar uno.',
    noBatches: 'Ninguna mezcla curó aquí en este periodo, así que el frío no costó nada. Haga una en Banco.',
    untimed: (count) =>
      counted(count, {
        one: 'Falta una mezcla: no tenía lecturas, o hacía demasiado frío para curar.',
        other: 'Faltan # mezclas: no tenían lecturas, o hacía demasiado frío para curar.',
      }),
    today: 'Hoy',
    yesterday: 'Ayer',
    onDay: (day) => `El ${day}`,
    thisWeek: 'Esta semana',
    lastWeek: 'La semana pasada',
    inWeekOf: (day) => `En la semana del ${day}`,
    cost: (of) => `${of.when} el frío en ${of.bay} costó ${of.minutes} de curado`,
    costNothing: (when, bay) => `${when} el frío en ${bay} no costó tiempo de curado.`,
    ofThem: (minutes, hours, days) => `; ${minutes} de ellos ${hours}${days}.`,
    allOfThem: (hours, days) => `, todo ${hours}${days}.`,
    hours: (fromHour, toHour) => `entre las ${fromHour} y las ${toHour}`,
    onDays: {
      workdays: { morning: ', de lunes a viernes por la mañana', later: ', de lunes a viernes' },
      weekend: { morning: ' las mañanas de fin de semana', later: ' los fines de semana' },
    },
    minutes: (count) => counted(count, { one: '# minuto', other: '# minutos' }),
    batches: (count) => counted(count, { one: '# mezcla', other: '# mezclas' }),
    slowTitle: 'Lentitud ahora',
    slowProduct: 'Producto',
    times: (ratio) => `${ratio}×`,
    slowSentence: (of) =>
      `${of.card} tarda aquí ${of.minutes} ahora; con todo a ${of.atC}, ${of.cardMinutes}.`,
    slowNone: 'Sin lecturas en los últimos 45 minutos, así que no se puede decir nada de ahora.',
    causesTitle: 'Por qué',
    causes: {
      door: 'Puerta abierta',
      'heating-off': 'Calefacción apagada, o aún sin alcanzar',
      'humid-spell': 'Racha húmeda',
      'cold-car': 'Auto que entró frío',
      'outdoor-cold': 'Nunca lo bastante caliente',
    },
    causeHints: {
      door: ({ fall }) =>
        `El aire bajó más de ${fall} en 4 minutos, o así de rápido entre dos lecturas, hasta que volvió.`,
      'heating-off': ({ rise }) => `La bahía subió más de ${rise} en las 12 horas siguientes.`,
      'humid-spell': () =>
        '75 % o más durante una hora; solo cuenta para productos cuya ficha dice que los frena.',
      'cold-car': () => 'El auto entró de afuera.',
      'outdoor-cold': () => 'Lo que queda: la bahía no llegó a la temperatura de la ficha.',
    },
    signal: (doorCount, humidHours) =>
      `${counted(doorCount, { one: '# puerta vista', other: '# puertas vistas' })} en el aire; ${humidHours} h de rachas húmedas.`,
    causesHow: 'Cómo se distinguen las causas',
    ifTitle: 'Si se calentara',
    ifFrom: 'Desde',
    ifTo: 'Hasta',
    ifTemperature: 'Temperatura',
    ifSentence: (of) =>
      `Eso quita cerca de ${of.minutes} de estos ${of.whole}, probablemente de ${of.low} a ${of.high}.`,
    ifNothing: 'Eso no quita nada.',
    ifHow:
      'Cada mezcla se calculó otra vez con ese aire; el rango es lo que no se sabe del producto: su ritmo y cuánto lo frena el frío. Aquí la bahía se enfría enseguida después, así que una real gana un poco más.',
    ifNone: 'No hay mezclas con qué probarlo en este periodo.',
    ifBand: (of) =>
      `Minutos que quita: una de cada diez ${of.low} o menos, la mitad ${of.middle}, nueve de cada diez ${of.high} o menos, de ${of.whole}.`,
    chartTitle: 'El aire',
    chartLabel: (bay) =>
      `Temperatura y humedad del aire y distancia de la pieza al punto de rocío en ${bay}, con los ratos en que hubo mezclas abiertas`,
    air: (unit) => `Aire, ${unit}`,
    panel: (unit) => `Pieza, ${unit}`,
    humidity: 'Humedad, %',
    distance: (unit) => `Pieza sobre el punto de rocío, ${unit}`,
    hold: (degrees) => `menos de ${degrees}: no aplicar`,
    open: 'mezcla abierta',
    table: 'Lo mismo en una tabla',
    time: 'Hora',
    batchTable: 'Mezclas que curaron aquí',
    batchPanel: 'Pieza',
    batchAdded: 'De más, min',
    daysTitle: 'Minutos de más por día',
    weeksTitle: 'Minutos de más por semana',
    mapTitle: 'Cuándo es lenta esta bahía',
    mapSentence: (card) =>
      `Cuántas veces más tarda ${card}, por día y hora, en las últimas cuatro semanas. Un punto: ahí hubo mezclas que perdieron minutos.`,
    mapNone: 'sin medir',
    mapScale: 'como en la ficha',
    mapScaleEnd: (ratio) => `${ratio} o más`,
    mapWeekday: 'Día de la semana',
    mapCell: (ratio, minutes) => (minutes === null ? ratio : `${ratio}, ${minutes} min perdidos`),
  },
};
