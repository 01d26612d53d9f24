// Which alerts there are and which screens they are for.

/** What alerts there are (design PRODUCT §4). */
export const ALERT_KINDS = [
  'spreadBy',
  'test',
  'waiting',
  'slowing',
  'condensation',
  'tooCold',
  'tooHot',
  'sensorQuiet',
  'sensorBack',
] as const;

/** The screens that an alert is for. */
export const ALERT_PLACES = ['bench', 'floor', 'setup'] as const;

export type AlertKind = (typeof ALERT_KINDS)[number];
export type AlertPlace = (typeof ALERT_PLACES)[number];
