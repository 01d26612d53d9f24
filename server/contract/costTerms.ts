// Words and bounds of what cold air costs, without a schema: pages take them as they are.

/** Days of the week as the map names them, Monday first. */
export const WEEKDAYS = ['Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun'] as const;

/** What cold is owed to; the minutes of all causes add up to the whole. */
export const COLD_CAUSES = ['door', 'heating-off', 'humid-spell', 'cold-car', 'outdoor-cold'] as const;

/** The longest span that is answered [days]. */
export const COST_SPAN_MAX_DAYS = 92;
/** The days at the end of the span that a change of heating is tried on. */
export const WHAT_IF_DAYS = 7;
/** What the heating may be set to in a what-if [°C]. */
export const HEAT_BOUNDS_C = { min: 5, max: 30 } as const;

export type ColdCause = (typeof COLD_CAUSES)[number];
export type Weekday = (typeof WEEKDAYS)[number];
