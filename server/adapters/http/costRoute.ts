// What a bay's air costs, by HTTP: the query parsed, both ends of the span known before anything is read.
import type { Request, Response } from 'express';
import {
  COST_SPAN_MAX_DAYS,
  costQuery,
  instantFromMs,
  isCostSpan,
  minutesOf,
  MS_PER_MIN,
  parseWith,
} from '../../contract/index.ts';
import type { CostQuestion, Doors } from '../../application/ports/doors.ts';
import { sendRejections, sendUnknown } from './problem.ts';

/** The heating of a what-if where nothing else is asked: the working morning. */
const HEAT_DEFAULT = { heatFrom: '06:00', heatTo: '10:00', heatC: 18 } as const;
const SPAN_DEFAULT_MS = 7 * 24 * 60 * MS_PER_MIN;

/** Answers `GET /bays/{id}/cost`. */
export async function readCost(doors: Doors, request: Request, response: Response): Promise<void> {
  const parsed = parseWith(costQuery, { ...request.query });
  if (parsed.kind === 'rejected') return sendRejections(response, parsed.rejections);
  const { from, to, cardId, heatFrom, heatTo, heatC } = parsed.value;
  const question: CostQuestion = {
    fromAt: from ?? null,
    toAt: to ?? null,
    cardId: cardId ?? null,
    heatFrom: heatFrom ?? HEAT_DEFAULT.heatFrom,
    heatTo: heatTo ?? HEAT_DEFAULT.heatTo,
    heatC: heatC === undefined ? HEAT_DEFAULT.heatC : Number(heatC),
  };
  const toAt = to ?? doors.nowAt();
  const fromAt = from ?? instantFromMs(toAt - SPAN_DEFAULT_MS);
  if (!isCostSpan({ fromAt, toAt })) {
    const allowed = `an instant before to, at most ${COST_SPAN_MAX_DAYS} days`;
    return sendRejections(response, [{ path: 'from', reason: 'does not fit to', allowed }]);
  }
  if (minutesOf(question.heatFrom) >= minutesOf(question.heatTo)) {
    const allowed = 'a time of day before heatTo (10:00 when it is not told)';
    return sendRejections(response, [{ path: 'heatFrom', reason: 'does not lie before heatTo', allowed }]);
  }
  const answer = await doors.readCost(String(request.params['id']), question);
  switch (answer.kind) {
    case 'done':
      return void response.json(answer.cost);
    case 'unknown-bay':
      return sendUnknown(response, 'bay');
    case 'unknown-card':
      return sendRejections(response, [
        { path: 'cardId', reason: 'is not a product of this shop', allowed: 'an id of GET /cards' },
      ]);
  }
}
