// Who may do what at the broker once there is sign-in: a sensor sends its own readings, a reader hears of lights and
// batches, and nobody else does anything.
import type { AuthenticateError, AuthenticateHandler, Client, Subscription } from 'aedes';
import type { AccessDoors, Ended } from '../../application/ports/accessDoors.ts';
import { addressSource } from '../../contract/index.ts';

export interface BrokerUsers {
  readonly authenticate: AuthenticateHandler;
  /** Whether a client may publish on a topic, now. */
  readonly mayPublish: (client: Client, topic: string) => boolean;
  /** How long a client's next message waits before it is taken [ms]. */
  readonly paceMs: (client: Client, payloadBytes: number) => number;
  /** Null refuses one subscription and keeps the connection. */
  readonly grant: (client: Client, subscription: Subscription) => Subscription | null;
  /** Whether a client may be sent what was published on a topic. */
  readonly mayHear: (client: Client, topic: string) => boolean;
  /** Cuts what an ended user holds open. */
  readonly cut: (ended: Ended) => void;
}

/** MQTT 3.1.1, 3.2.2.3. */
const BAD_CREDENTIALS_CODE = 4;
const NOT_AUTHORISED_CODE = 5;

/** Makes the rules for the users of a shop. */
export function makeBrokerUsers({
  access,
  topicPrefix,
}: {
  access: AccessDoors;
  topicPrefix: string;
}): BrokerUsers {
  const nameOf = new WeakMap<Client, string>();
  const openOf = new Map<string, Set<Client>>();
  const readingsPrefix = `${topicPrefix}/readings/`;
  const userOf = (client: Client) => access.findUser(nameOf.get(client) ?? '');
  const mayHear = (client: Client, topic: string): boolean =>
    userOf(client)?.kind === 'reader' && isOfReaders(topic, topicPrefix);
  const mayPublish = (client: Client, topic: string): boolean => {
    const user = userOf(client);
    if (user?.kind !== 'sensor' || !topic.startsWith(readingsPrefix)) return false;
    return user.sensorIds.includes(topic.slice(readingsPrefix.length));
  };
  return {
    authenticate(client, name, password, done) {
      if (name === undefined || password === undefined) return done(refusal(NOT_AUTHORISED_CODE), null);
      const known = access.knowUser({ name, password: password.toString(), source: sourceOf(client) });
      if (known.kind !== 'known') return done(refusal(BAD_CREDENTIALS_CODE), null);
      nameOf.set(client, name);
      // An identifier is a user's own: under somebody else's one would take over what that one has subscribed.
      Object.assign(client, { id: `${name}/${client.id}` });
      dropForeignWill(client, mayPublish);
      remember(openOf, name, client);
      done(null, true);
    },
    mayPublish,
    paceMs: (client, payloadBytes) => access.paceUser(nameOf.get(client) ?? '', payloadBytes),
    grant: (client, subscription) => (mayHear(client, subscription.topic) ? subscription : null),
    mayHear,
    cut({ kind, id }) {
      if (kind === 'sensorUser') for (const client of openOf.get(id) ?? []) client.close();
    },
  };
}

/** PREFIX/bays/{id}/light and PREFIX/batches/{id}, each with a plus for any id; nothing wider. */
function isOfReaders(topic: string, topicPrefix: string): boolean {
  if (!topic.startsWith(`${topicPrefix}/`)) return false;
  const [kind, id = '', last, ...more] = topic.slice(topicPrefix.length + 1).split('/');
  if (id === '' || id.includes('#') || (id.includes('+') && id !== '+') || more.length > 0) return false;
  return (kind === 'bays' && last === 'light') || (kind === 'batches' && last === undefined);
}

/**
 * Sensors bring a last will to a topic of their maker's by themselves: they are let in without it. Refused only when it is
 * sent, it would be a fault of the broker's own, for which nobody is connected any more.
 */
function dropForeignWill(client: Client, mayPublish: BrokerUsers['mayPublish']): void {
  const { _will: will } = client as Client & { _will?: { readonly topic: string } };
  if (will !== undefined && !mayPublish(client, will.topic)) Object.assign(client, { _will: undefined });
}

function remember(openOf: Map<string, Set<Client>>, name: string, client: Client): void {
  const open = openOf.get(name) ?? new Set();
  openOf.set(name, open.add(client));
  client.conn.once('close', () => {
    open.delete(client);
    if (open.size === 0 && openOf.get(name) === open) openOf.delete(name);
  });
}

function sourceOf(client: Client): string {
  return addressSource('remoteAddress' in client.conn ? (client.conn.remoteAddress ?? '') : '');
}

function refusal(returnCode: number): AuthenticateError {
  const error: Error & { returnCode?: number } = new Error('not let in');
  error.returnCode = returnCode;
  // The package's enum exists in its types alone: there is nothing to import at run time.
  // oxlint-disable-next-line typescript/no-unsafe-enum-assignment
  return error as AuthenticateError;
}
