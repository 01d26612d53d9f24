// What is said over MQTT and the live feed, described by AsyncAPI 3: https://www.asyncapi.com/docs/reference/specification/v3.0.0
import { z } from 'zod';
import { airMessageSchema, BAY_LIGHTS, changeSchema, plainReadingBody } from '../../contract/index.ts';

type Json = Readonly<Record<string, unknown>>;

export interface AsyncApiDocument {
  readonly asyncapi: '3.0.0';
  readonly info: Json;
  readonly servers: Readonly<Record<string, Json>>;
  readonly channels: Readonly<Record<string, ChannelJson>>;
  readonly operations: Readonly<Record<string, OperationJson>>;
  readonly components: { readonly messages: Readonly<Record<string, MessageJson>>; readonly schemas: Json };
}

interface ChannelJson extends Json {
  readonly address: string;
  readonly description: string;
}

interface OperationJson extends Json {
  /** Seen from the shop: it sends, or it receives. */
  readonly action: 'send' | 'receive';
  readonly summary: string;
}

interface MessageJson extends Json {
  readonly summary: string;
}

/** Makes the document. The topics' prefix is config: a parameter here. */
export function makeAsyncApi(version: string): AsyncApiDocument {
  return {
    asyncapi: '3.0.0',
    info: {
      title: 'Sandby: MQTT and live feed',
      version,
      description: 'Readings come in by MQTT 3.1.1; lights and batches go out; pages follow the live feed.',
    },
    servers: {
      broker: {
        host: 'localhost:1883',
        protocol: 'mqtt',
        protocolVersion: '3.1.1',
        description: 'The built-in broker; its address and port are config. MQTT 5 is not served.',
      },
      web: {
        host: 'localhost:4180',
        protocol: 'socket.io',
        description: 'Socket.IO 4, over websocket or polling, at the address of the pages.',
      },
    },
    channels: channels(),
    operations: operations(),
    components: { messages: messages(), schemas: schemas() },
  };
}

/** A readable part for the page of calls. */
export function asyncApiSection(version: string, escape: (text: string) => string): string {
  const document = makeAsyncApi(version);
  const lines = Object.entries(document.operations).map(([name, { action, summary, ...rest }]) => {
    const channelName = String((rest['channel'] as { $ref: string }).$ref.split('/').at(-1));
    const channel = document.channels[channelName] as ChannelJson;
    const direction = action === 'receive' ? 'in' : 'out';
    return `<details><summary><b>${direction}</b> <code>${escape(channel.address)}</code> ${escape(channel.description)}</summary><pre>${escape(JSON.stringify({ [name]: { action, summary, ...rest }, channel }, null, 2))}</pre></details>`;
  });
  const shapes = Object.entries(document.components.messages).map(
    ([name, message]) =>
      `<details><summary><code>${escape(name)}</code> ${escape(message.summary)}</summary><pre>${escape(JSON.stringify(message, null, 2))}</pre></details>`,
  );
  return `<h2>MQTT and live feed</h2><p>The same as <a href="/api/v1/asyncapi.json">AsyncAPI 3</a>; the prefix is config, <code>sandby/v1</code> unless it says otherwise.</p>
${lines.join('\n')}${shapes.join('\n')}`;
}

function channels(): AsyncApiDocument['channels'] {
  return {
    readings: mqttChannel('{prefix}/readings/{sensorId}', {
      description: 'A sensor’s readings. QoS 1 is acknowledged after they are on disk.',
      messages: ['reading', 'senml'],
      parameters: { sensorId: 'as the shop names the sensor' },
    }),
    light: mqttChannel('{prefix}/bays/{bayId}/light', {
      description: 'Retained. What a stack light shows of a bay.',
      messages: ['light'],
      parameters: { bayId: 'as Setup names the bay' },
    }),
    batch: mqttChannel('{prefix}/batches/{batchId}', {
      description: 'Retained. An open batch as HTTP gives it; an empty message clears it when it is closed.',
      messages: ['batch', 'cleared'],
      parameters: { batchId: 'of the batch' },
    }),
    live: {
      address: '/live',
      description:
        'A Socket.IO namespace; a client connects with auth {ledgerId, sequence} of the snapshot that it holds, and with snapshotAgeMs, the time since it asked for it, is told of a resync that it may have missed.',
      servers: [{ $ref: '#/servers/web' }],
      messages: refsOf(['change', 'air', 'resync']),
    },
  };
}

function operations(): AsyncApiDocument['operations'] {
  return {
    receiveReading: operation('receive', { channel: 'readings', summary: 'Sensors publish' }),
    publishLight: operation('send', {
      channel: 'light',
      summary: 'At the start, and whenever it changes',
      bindings: { mqtt: { qos: 1, retain: true } },
    }),
    publishBatch: operation('send', {
      channel: 'batch',
      summary: 'At the start, and whenever it changes',
      bindings: { mqtt: { qos: 1, retain: true } },
    }),
    publishChange: operation('send', {
      channel: 'live',
      summary: 'Changes in order of sequence; air as it comes; a call to read the snapshot again',
    }),
  };
}

function mqttChannel(
  address: string,
  {
    description,
    messages: names,
    parameters,
  }: { description: string; messages: readonly string[]; parameters: Readonly<Record<string, string>> },
): ChannelJson {
  const named = Object.entries(parameters).map(([name, text]) => [name, { description: text }]);
  return {
    address,
    description,
    servers: [{ $ref: '#/servers/broker' }],
    parameters: {
      prefix: { default: 'sandby/v1', description: 'of all topics of a shop' },
      ...Object.fromEntries(named),
    },
    messages: refsOf(names),
  };
}

function operation(
  action: OperationJson['action'],
  { channel, ...rest }: { channel: string; summary: string; bindings?: Json },
): OperationJson {
  return { action, channel: { $ref: `#/channels/${channel}` }, ...rest };
}

function refsOf(names: readonly string[]): Json {
  return Object.fromEntries(names.map((name) => [name, { $ref: `#/components/messages/${name}` }]));
}

function messages(): Readonly<Record<string, MessageJson>> {
  const json = 'application/json';
  return {
    reading: { summary: 'One reading, or a list of them', contentType: json, payload: schemaRef('Reading') },
    senml: {
      summary: 'SenML (RFC 8428)',
      contentType: 'application/senml+json',
      payload: { type: 'array', items: { type: 'object' } },
    },
    light: {
      summary: 'One word',
      contentType: 'text/plain',
      payload: { type: 'string', enum: [...BAY_LIGHTS] },
    },
    batch: { summary: 'The batch', contentType: json, payload: schemaRef('Batch') },
    cleared: {
      summary: 'Empty: the batch is closed',
      contentType: 'text/plain',
      payload: { type: 'string', maxLength: 0 },
    },
    change: {
      summary: 'What changed, after which sequence',
      contentType: json,
      payload: schemaRef('Change'),
    },
    air: {
      summary: 'A bay’s air, unsequenced; the newest wins',
      contentType: json,
      payload: schemaRef('AirMessage'),
    },
    resync: { summary: 'Without content: read /snapshot again', payload: { type: 'null' } },
  };
}

function schemaRef(name: string): Json {
  return { $ref: `#/components/schemas/${name}` };
}

/** As JSON Schema draft 7, which AsyncAPI takes without further word. */
function schemas(): Json {
  return {
    ...schemasOf(plainReadingBody, 'input'),
    ...schemasOf(changeSchema, 'output'),
    ...schemasOf(airMessageSchema, 'output'),
  };
}

/** A schema with all that it is made of, each by its own name. */
function schemasOf(schema: z.ZodType, io: 'input' | 'output'): Json {
  const { definitions = {} } = z.toJSONSchema(schema, { target: 'draft-7', io, unrepresentable: 'any' });
  const text = JSON.stringify(definitions).replaceAll('"#/definitions/', '"#/components/schemas/');
  return JSON.parse(text) as Json;
}
