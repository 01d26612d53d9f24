// MQTT out: the light of each bay and every open batch as retained messages, brought in line with the views at the start and
// after each change. What is so already is not published again; what is no more is cleared by an empty message.
import type { BatchWire, ChangeWire } from '../../contract/index.ts';
import type { Log } from '../../application/ports/live.ts';
import type { SignDoors } from '../../application/ports/notifyDoors.ts';

export interface SignParts {
  readonly doors: SignDoors;
  readonly log: Log;
  readonly topicPrefix: string;
  /** Publishes a retained message; an empty one clears the topic. */
  readonly publish: (topic: string, payload: string) => Promise<void>;
}

export interface SignPublisher {
  /** A change to follow; null: anything may have changed. */
  tell(change: ChangeWire | null): void;
  stop(): void;
}

/** Starts to publish: all there is, then each change. */
export function publishSigns(parts: SignParts): SignPublisher {
  const state: State = { stands: new Map(), changes: [], isAnything: true, isBusy: false, isStopped: false };
  void followAll(parts, state, true);
  return {
    tell(change) {
      if (change === null) state.isAnything = true;
      else state.changes.push(change);
      void followAll(parts, state, false);
    },
    stop: () => {
      state.isStopped = true;
    },
  };
}

interface State {
  /** What stands at each topic. */
  readonly stands: Map<string, string>;
  changes: ChangeWire[];
  isAnything: boolean;
  isBusy: boolean;
  isStopped: boolean;
}

async function followAll(parts: SignParts, state: State, isFirst: boolean): Promise<void> {
  if (state.isBusy) return;
  state.isBusy = true;
  try {
    if (isFirst) await clearClosed(parts);
    while (!state.isStopped && (state.isAnything || state.changes.length > 0)) {
      await followOnce(parts, state);
      // A busy shop changes many times a second: a light need not.
      await new Promise((resolve) => setTimeout(resolve, PAUSE_MS).unref());
    }
  } catch (error) {
    // The store will say when it is back, and then all of it is looked at again.
    state.isAnything = true;
    parts.log.warn('signs.failed', { reason: String(error) });
  }
  state.isBusy = false;
}

async function followOnce(parts: SignParts, state: State): Promise<void> {
  const { doors, topicPrefix } = parts;
  const { changes, isAnything } = state;
  state.changes = [];
  state.isAnything = false;
  const put = (topic: string, payload: string): Promise<void> => putSign(parts, state, { topic, payload });
  const batchTopic = (id: string): string => `${topicPrefix}/batches/${id}`;
  if (isAnything) {
    const open = await doors.readOpenBatches();
    const topics = new Set(open.map(({ id }) => batchTopic(id)));
    for (const topic of state.stands.keys())
      if (topic.startsWith(batchTopic('')) && !topics.has(topic)) await put(topic, '');
    for (const batch of open) await put(batchTopic(batch.id), JSON.stringify(batch));
  } else {
    for (const batch of changes.flatMap(({ batches }) => batches))
      await put(batchTopic(batch.id), isClosed(batch) ? '' : JSON.stringify(batch));
  }
  const lights = await doors.readLights();
  const lightTopics = new Map(
    [...lights].map(([bayId, light]) => [`${topicPrefix}/bays/${bayId}/light`, light]),
  );
  for (const topic of state.stands.keys())
    if (topic.startsWith(`${topicPrefix}/bays/`) && !lightTopics.has(topic)) await put(topic, '');
  for (const [topic, light] of lightTopics) await put(topic, light);
}

async function putSign(
  { publish }: SignParts,
  { stands }: State,
  { topic, payload }: { topic: string; payload: string },
): Promise<void> {
  if ((stands.get(topic) ?? '') === payload) return;
  await publish(topic, payload);
  if (payload === '') stands.delete(topic);
  else stands.set(topic, payload);
}

/** What closed while nobody could be told may still be held by whoever listened before. */
async function clearClosed({ doors, topicPrefix, publish }: SignParts): Promise<void> {
  for (const batchId of await doors.readLatelyClosed())
    await publish(`${topicPrefix}/batches/${batchId}`, '');
}

function isClosed({ stage }: BatchWire): boolean {
  return stage === 'sanded' || stage === 'scrapped';
}

/** Between two looks [ms]. */
const PAUSE_MS = 200;
