// Holds what was asked of a bay's cost: the last answer stays on the screen until the next is there.
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CostWire } from '../../../server/contract/index.ts';
import { askCost } from '../../actions/airActs.ts';
import type { CostRead, CostRequest } from '../../state/air.ts';

export interface HeldCost {
  readonly cost: CostWire | null;
  readonly isPending: boolean;
  readonly trouble: 'network' | 'server' | null;
}

const NOTHING: HeldCost = { cost: null, isPending: true, trouble: null };

/** Asks whenever the question or what it rests on has changed. */
export function useCost(request: CostRequest, restsOn: string): HeldCost {
  const [held, setHeld] = useState<HeldCost>(NOTHING);
  const askedRef = useRef(request);
  useEffect(() => {
    askedRef.current = request;
  });
  const { bayId, cardId, fromAt, heatFrom, heatTo, heatC } = request;
  useEffect(() => {
    let isDropped = false;
    const read = async (): Promise<void> => {
      const asked = askedRef.current;
      const answer = await askCost(asked);
      if (!isDropped) setHeld((before) => heldAfter(before, answer));
    };
    setHeld((before) => ({ ...before, isPending: true }));
    void read();
    return () => {
      isDropped = true;
    };
  }, [bayId, cardId, fromAt, heatFrom, heatTo, heatC, restsOn]);
  return held;
}

function heldAfter(before: HeldCost, answer: CostRead): HeldCost {
  return answer.kind === 'read'
    ? { cost: answer.cost, isPending: false, trouble: null }
    : { ...before, isPending: false, trouble: answer.why };
}
