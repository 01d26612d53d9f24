// The log: one JSON line an event on standard error, typed names, no measurements, no secrets.
import { pino } from 'pino';
import type { Log } from '../../application/ports/live.ts';

/** Makes the log; standard output stays free for what people and scripts read. */
export function makeLog(level: 'info' | 'warn' | 'silent'): Log {
  const logger = pino({ level, base: null }, pino.destination({ dest: 2, sync: true }));
  return {
    info: (event, content) => logger.info(content, event),
    warn: (event, content) => logger.warn(content, event),
    error: (event, content) => logger.error(content, event),
  };
}
