// People who act all the time on a server that is killed all the time: each act has a key, and one without an answer is
// asked again under it, as a page would.
import { getJson, postJson, type Reply } from '../support/http.ts';

export interface Act {
  readonly key: string;
  readonly path: string;
  readonly body: Readonly<Record<string, unknown>>;
  /** The fact that it leaves, once. */
  readonly fact: string;
  /** Null until somebody has answered. */
  reply: Reply | null;
}

export interface Desk {
  /** Asks for the next act; resolves when it was answered or the server is gone. */
  act(address: string): Promise<void>;
  /** Asks again for all that has no answer. */
  askAgain(address: string): Promise<void>;
  readonly acts: readonly Act[];
  /** Alerts that were seen on a screen. */
  readonly alertIds: ReadonlySet<string>;
}

interface Held {
  readonly id: string;
  readonly stage: string;
  readonly spreadAt: string | null;
  readonly lastAct: { readonly factSequence: number; readonly recordedAt: string } | null;
}

/** Makes a desk whose acts follow from a random sequence. */
export function makeDesk(random: () => number): Desk {
  const acts: Act[] = [];
  const batches = new Map<string, Held>();
  const alerts = new Set<string>();
  const marked = new Set<string>();
  const pick = <Thing>(things: readonly Thing[]): Thing | undefined =>
    things[Math.floor(random() * things.length)];

  async function ask(act: Act, address: string): Promise<void> {
    try {
      act.reply = await postJson({ address, path: act.path }, act.body, { 'idempotency-key': act.key });
    } catch {
      // The server is gone; whether it did the act only its next start can tell.
      return;
    }
    const batch = act.reply.body as unknown as Held;
    if (act.reply.status < 300 && batch.stage !== undefined) batches.set(batch.id, batch);
  }

  function chooseAct(): Pick<Act, 'path' | 'body' | 'fact'> {
    const kind = random();
    const of = (stages: readonly string[]): Held | undefined =>
      pick([...batches.values()].filter(({ stage }) => stages.includes(stage)));
    const command = (
      held: Held | undefined,
      [type, fact]: readonly [type: string, fact: string],
      more: Readonly<Record<string, unknown>> = {},
    ): ReturnType<typeof chooseAct> =>
      held === undefined
        ? startOf(random)
        : { path: `/batches/${held.id}/commands`, body: { type, ...more }, fact: `${fact} ${held.id}` };
    const alertId = pick([...alerts].filter((id) => !marked.has(id)));
    if (kind < 0.2) return command(of(['wet']), ['markSpread', 'BatchSpread']);
    if (kind < 0.4) {
      const outcome = random() < 0.5 ? 'gums' : 'powders';
      return command(of(['kicked', 'test']), ['recordCheck', 'CheckRecorded'], { outcome });
    }
    if (kind < 0.5) return command(of(['kicked', 'sanding', 'test']), ['scrap', 'BatchScrapped']);
    if (kind < 0.65) {
      const held = pick([...batches.values()].filter(({ lastAct }) => lastAct !== null));
      if (held === undefined) return startOf(random);
      const factSequence = held.lastAct?.factSequence;
      const path = `/batches/${held.id}/commands`;
      return { path, body: { type: 'undo', factSequence }, fact: `FactUndone ${factSequence}` };
    }
    if (kind < 0.8 && alertId !== undefined) {
      marked.add(alertId);
      return { path: `/alerts/${alertId}/acknowledgement`, body: {}, fact: `AlertAcknowledged ${alertId}` };
    }
    return startOf(random);
  }

  return {
    acts,
    alertIds: alerts,
    async act(address) {
      const act: Act = { key: `kill-${acts.length}-${random()}`, ...chooseAct(), reply: null };
      acts.push(act);
      await ask(act, address);
      const seen = await getJson(address, '/alerts').catch(() => null);
      for (const { id } of (seen?.body['alerts'] ?? []) as { id: string }[]) alerts.add(id);
    },
    async askAgain(address) {
      for (const act of acts) if (act.reply === null) await ask(act, address);
    },
  };
}

/** Mixed now or a while ago, so that some are wet, some have kicked and some call for their test. */
function startOf(random: () => number): Pick<Act, 'path' | 'body' | 'fact'> {
  const mixedAt = new Date(Date.now() - Math.floor(random() * 40) * 60_000).toISOString();
  const panel = `Panel ${Math.floor(random() * 1e6)}`;
  const body = { cardId: 'body-filler', panel, bayId: 'bay-1', thicknessMm: 2, substrate: 'steel', mixedAt };
  return { path: '/batches', body, fact: 'BatchStarted' };
}
