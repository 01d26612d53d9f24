// Every text of the screens in the Spanish of Latin American body shops; a chunk of its own, loaded when it is chosen.
//
// One word for one thing, as in English: batch mezcla · filler masilla · putty masilla fina · hardener endurecedor ·
// card ficha · panel pieza · repair order orden de reparación (OR) · bay bahía · booth cabina · wet fresca ·
// kicked fraguando · test probar, prueba · sanding lijando · sanded lijada · scrapped desechada · gums empasta la lija ·
// powders hace polvo · spread aplicada · window ventana · build cuerpo · edge borde · skim capa fina · lamp lámpara ·
// reading lectura · dew point punto de rocío · promise promesa, hora prometida · Bench Banco · Floor Taller · Air Aire ·
// Records Registros · Setup Ajustes.
import { accessWordsEs } from './accessWords.es.ts';
import { airWordsEs } from './airWords.es.ts';
import { alertWordsEs } from './alertWords.es.ts';
import { benchWordsEs } from './benchWords.es.ts';
import { copyWordsEs } from './copyWords.es.ts';
import { floorWordsEs } from './floorWords.es.ts';
import { notifyWordsEs } from './notifyWords.es.ts';
import { makeCounted } from './plural.ts';
import { recordsWordsEs } from './recordsWords.es.ts';
import { setupWordsEs } from './setupWords.es.ts';
import { shellWordsEs } from './shellWords.es.ts';
import { troubleWordsEs } from './troubleWords.es.ts';
import type { Words } from './words.en.ts';

const counted = makeCounted('es');
const minutesText = (count: number): string => counted(count, { one: '# minuto', other: '# minutos' });

export const wordsEs: Words = {
  ...shellWordsEs,
  ...accessWordsEs,
  ...setupWordsEs,
  ...copyWordsEs,
  ...recordsWordsEs,
  ...airWordsEs,
  ...alertWordsEs,
  ...floorWordsEs,
  ...notifyWordsEs,
  ...benchWordsEs,
  ...troubleWordsEs,
  language: 'es',
  unit: { min: 'min' },
  screen: { bench: 'Banco', floor: 'Taller', air: 'Aire', records: 'Registros', setup: 'Ajustes' },
  stage: {
    wet: 'Fresca',
    kicked: 'Fraguando',
    test: 'Probar',
    sanding: 'Lijando',
    sanded: 'Lijada',
    scrapped: 'Desechada',
  },
  countdown: {
    spreadWithin: 'aplicar en',
    stopSpreading: 'No aplicar más',
    stopSpreadingTail: 'esta mezcla ya debe de estar fraguando',
    testIn: 'probar en',
    testNow: 'Probar ya',
    waiting: (minutes) => `espera ${minutes} min`,
    sandingFor: 'hace',
    pending: 'Calculando',
    noTime: 'Sin hora aún',
    closed: 'Listo',
  },
  noTime: {
    pending: 'La primera estimación viene en camino.',
    stalled: 'A esta temperatura no cura por completo.',
    unknown: 'No se puede dar hora para esta mezcla.',
  },
  reason: {
    againstCard: (minutes) =>
      minutes < 0
        ? `${minutesText(-minutes)} más rápido que la ficha`
        : `${minutesText(minutes)} más lento que la ficha`,
    asOnCard: (minutes) => `Tal como dice la ficha: ${minutesText(minutes)} desde la mezcla`,
    bay: (of) =>
      of.air === null
        ? `${of.bay} está ${of.isCold ? 'fría' : 'caliente'}: ${of.against}`
        : `${of.bay} está a ${of.air}: ${of.against}`,
    car: (of) =>
      `El auto entró ${of.isCold ? 'frío' : 'caliente'}${of.panel === null ? '' : `, con la pieza a ${of.panel}`}: ${of.against}`,
    edgeLast: (minutes) => `El borde fino es lo último: ${minutesText(minutes)} después del cuerpo`,
    edge: (against) => `El borde fino es lo último: ${against}`,
    film: (of) =>
      of.isFaster
        ? `${of.thickness} se calientan solos al curar: ${of.against}`
        : `${of.thickness} dan poco calor propio: ${of.against}`,
    hardener: (dose, against) => `${dose} de endurecedor: ${against}`,
    lamp: (isFaster, against) =>
      isFaster ? `Bajo la lámpara: ${against}` : `Tiene que enfriarse de la lámpara: ${against}`,
    product: (card, against) => `${card} en este taller: ${against}`,
  },
  note: {
    noAir: (bay, cardMin) =>
      `Aún no hay lectura de ${bay}, así que no se puede dar hora.${cardMin === null ? '' : ` La ficha dice ${cardMin} min.`}`,
    airGap: (bay) => `${bay} estuvo un rato sin lecturas: por eso la ventana es más ancha.`,
    airStale: (bay) => `No hay lectura reciente de ${bay}: tome las horas como aproximadas.`,
    tooCold: (lowest) =>
      `Hace más frío de lo que admite el producto${lowest === null ? '' : ` (${lowest})`}. Caliente la pieza; las horas son aproximadas.`,
    gummed: (clock) =>
      clock === null
        ? 'Empastó la lija, así que la ventana es nueva.'
        : `Empastó la lija a las ${clock}, así que la ventana es nueva.`,
    'humidity-assumed': 'Sin lectura de humedad: se supone 50 %.',
    stalled: 'Demasiado frío para curar por completo en 12 horas. Caliente la pieza.',
    'condensation-hold': 'La pieza está cerca del punto de rocío. No aplique: primero séquela y caliéntela.',
    'too-hot': 'La pieza se calienta demasiado. Aleje la lámpara: ampollas y poros.',
    'hardener-low': 'Poco endurecedor: puede que nunca cure por completo.',
    'hardener-high': 'Mucho endurecedor: puede sangrar a través de la pintura.',
    'film-thick': 'Capa gruesa: mejor en dos capas.',
  },
  window: {
    build: 'cuerpo',
    edge: 'borde',
    now: 'ahora',
    likely: 'prueba probable',
    description: (of) =>
      `Mezclada ${of.mixed}, ahora ${of.now}. Una de cada diez hace polvo a las ${of.p10}, la mitad a las ${of.p50}, nueve de cada diez a las ${of.p90}.`,
    descriptionParts: (build, edge) => ` Cuerpo ${build}, borde ${edge}.`,
  },
  slip: {
    soon: 'pronto',
    order: (order) => `OR ${order}`,
    made: (card, thickness) => `${card}, ${thickness}`,
    by: (initials) => `por ${initials}`,
    lampOn: (clock) => `Lámpara hasta las ${clock}`,
    kept: (act, clock) => `Guardado: ${act} ${clock}. Se envía al volver la conexión.`,
    keptStart: (clock) => `Mezclada ${clock}. Empieza a contar al volver la conexión.`,
  },
  act: {
    markSpread: 'Aplicada',
    testIt: 'Probar',
    gums: 'Empasta',
    powders: 'Hace polvo',
    finishSanding: 'Lijada',
    scrap: 'Desechar',
    moveToBay: 'Mover',
    switchLamp: 'Lámpara',
    undo: 'Deshacer',
    startBatch: 'Mezclada',
    more: 'Más',
    back: 'Atrás',
    close: 'Cerrar',
    firstTry: '¿A la primera?',
    firstTryHint: 'No, si antes empastó la lija y nadie lo anotó.',
    yes: 'Sí',
    no: 'No',
    seen: 'Visto',
    sending: 'Enviando…',
    gumsHint: 'tapa la lija',
    powdersHint: 'polvo seco',
  },
  more: {
    done: 'Cuándo se hizo',
    ago: (minutes) => (minutes === 0 ? 'ahora' : `hace ${minutes} min`),
    move: 'Mover a otra bahía',
    moveTo: 'Bahía',
    moveButton: 'Mover',
    lamp: 'Lámpara',
    lampWhich: 'Qué lámpara',
    lampDistance: 'Distancia',
    lampMinutes: 'Minutos, 0 es apagada',
    lampButton: 'Encender',
    lampOffButton: 'Apagar',
    warmer: (bay) => `Si ${bay} estuviera más caliente`,
    warmerBy: (degrees) => `+${degrees}`,
    noLamps: 'En este taller no hay ninguna lámpara dada de alta.',
    scrap: 'Desechar esta mezcla',
    scrapSure: '¿Desecharla? Su cuenta termina para siempre.',
    scrapYes: 'Sí, desecharla',
    keepIt: 'Conservarla',
    undoLast: (act, clock) => `Deshacer «${act}» de las ${clock}`,
    undoNone: 'Nada que deshacer: se puede durante 10 minutos.',
    nextLayer: 'Siguiente capa',
    nextLayerHint: 'La misma pieza otra vez, con esta capa debajo.',
    air: 'Aire en esta bahía desde la mezcla',
    airShow: 'Mostrar el aire',
    airNone: 'Sin lecturas desde la mezcla.',
    airLoading: 'Leyendo el aire…',
    airTable: 'Lo mismo en una tabla',
    airTime: 'Hora',
    airTemperature: (unit) => `Aire, ${unit}`,
    panelTemperature: (unit) => `Pieza, ${unit}`,
    airHumidity: 'Humedad, %',
  },
  effect: {
    pending: 'Calculando qué se ganaría…',
    network: 'Sin conexión: ahora no se puede decir qué se ganaría.',
    server: 'La computadora del taller no puede decir ahora qué se ganaría.',
    noTime: 'Entonces no se podría dar hora.',
    testNow: 'Probar ya, con o sin el cambio.',
    test: (clock) => `Prueba hacia las ${clock}.`,
    same: (clock) => `Sin diferencia: prueba hacia las ${clock}.`,
    changed: (of) =>
      `Prueba hacia las ${of.clock} en vez de las ${of.before}: ${minutesText(Math.abs(of.laterMin))} ${of.laterMin < 0 ? 'antes' : 'después'}.`,
  },
  actDone: {
    markSpread: (panel) => `${panel}: aplicada`,
    recordCheck: (panel) => `${panel}: prueba anotada`,
    finishSanding: (panel) => `${panel}: lijada`,
    scrap: (panel) => `${panel}: desechada`,
    moveToBay: (panel) => `${panel}: movida`,
    switchLamp: (panel) => `${panel}: lámpara anotada`,
    undo: (panel) => `${panel}: deshecho`,
    startBatch: (panel) => `${panel}: mezclada`,
  },
  factName: {
    BatchStarted: 'Mezclada',
    BatchSpread: 'Aplicada',
    BatchMoved: 'Movida',
    LampSwitched: 'Lámpara',
    CheckRecorded: 'Prueba',
    SandingStarted: 'Hace polvo',
    BatchSanded: 'Lijada',
    BatchScrapped: 'Desechada',
  },
  mix: {
    open: 'Mezclar',
    again: 'Lo mismo',
    title: 'Mezclar',
    againTitle: 'Lo mismo otra vez',
    layerTitle: 'Siguiente capa',
    product: 'Producto',
    panel: 'Pieza',
    otherPanel: 'Otra pieza',
    thickness: 'Espesor',
    skim: 'capa fina',
    start: 'Empezar',
    change: 'Cambiar algo',
    details: 'Detalles',
    bay: 'Bahía',
    substrate: 'Debajo de la masilla',
    substrates: { steel: 'Acero', aluminium: 'Aluminio', plastic: 'Plástico' },
    hardener: 'Endurecedor, %',
    weighed: 'El endurecedor se pesó',
    order: 'Orden de reparación',
    by: 'Por (iniciales)',
    underlay: (unit) => `Masilla vieja debajo, ${unit}`,
    mixedAgo: 'Mezclada',
    coldCar: 'El auto entró de afuera',
    rolledInAgo: 'Entró, hace cuántos minutos',
    outdoor: (unit) => `Afuera, ${unit}`,
    amount: 'Cuánto mezclar para una zona',
    spotLength: (unit) => `Largo, ${unit}`,
    spotWidth: (unit) => `Ancho, ${unit}`,
    filler: 'de masilla',
    hardenerWord: 'de endurecedor',
    beadWord: 'de cordón',
    beadGuide: 'El largo sale del cordón que pesó el taller: pese el endurecedor cuando importe.',
    beadUnweighed: 'Para el largo del cordón falta pesar una vez el del taller:',
    beadWeigh: 'pesar 10 cm en Ajustes',
    working: (minutes, atC) => `Aplíquela en unos ${minutes} min (ficha, a ${atC})`,
    today: (of) => `Ahora en ${of.bay}: aplicar en unos ${of.spread}, probar a los ${of.test}`,
    cardHint: (of) => `${of.minutes} min a ${of.atC}`,
    panelMissing: 'elija una',
    layerOffer: (below) => `Siguiente capa, sobre ${below}`,
    underneath: (thickness) => `${thickness} debajo`,
    tooThick: (thickness) => `Más de ${thickness}: mejor en dos capas.`,
  },
  caution: {
    title: 'Antes de empezar',
    vapour: 'Vapor de estireno: ventile y use un respirador adecuado y bien ajustado.',
    peroxide: 'Endurecedor de peróxido: guantes y lentes; lejos del calor, los metales y los acelerantes.',
    dosing: 'Mida el endurecedor; si duda, péselo.',
    dust: 'Polvo: aspírelo y use mascarilla.',
    leftover: 'La mezcla sobrante se calienta sola: extiéndala fina, nunca en un bote cerrado.',
    short:
      'Ventilación, respirador, guantes, lentes, aspiración del polvo. Mida el endurecedor, extienda fina la mezcla sobrante.',
    acknowledge: 'Al empezar queda anotado que leyó los avisos de seguridad.',
    decide:
      'Deciden la hoja técnica del producto, las normas del lugar y su personal capacitado; este programa solo ayuda a medir los tiempos.',
  },
  bench: {
    empty: 'Nada está curando.',
    emptyHint: 'Haga una mezcla para que empiece su cuenta.',
    emptyMine: 'Ninguna de las mezclas abiertas es suya.',
    mine: 'Mías',
    everyone: 'De todos',
    whose: 'Mezclas de quién',
    openCount: (count) => counted(count, { one: '# mezcla abierta', other: '# mezclas abiertas' }),
    loading: 'Leyendo el taller…',
    unreachable: 'No se alcanza el taller.',
    unreachableHint:
      'Quizá el programa está apagado, o este equipo no está en su red. Se vuelve a intentar solo.',
  },
  title: { idle: 'Banco', with: (countdown, panel) => `${countdown} · ${panel}` },
};
