// The description of MQTT and the live feed: every reference leads somewhere inside it, every part is used, and it says what is.
import { describe, expect, it } from 'vitest';
import { makeAsyncApi } from '../../../server/adapters/http/asyncApi.ts';
import { makeApiPage } from '../../../server/adapters/http/openApi.ts';
import { BAY_LIGHTS } from '../../../server/contract/index.ts';

const document = makeAsyncApi('1.2.3');

/** Every "$ref" in it. */
function refsIn(value: unknown): string[] {
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => (key === '$ref' ? [String(inner)] : refsIn(inner)));
}

function find(reference: string): unknown {
  return reference
    .replace(/^#\//, '')
    .split('/')
    .reduce<unknown>((value, key) => (value as Record<string, unknown> | undefined)?.[key], document);
}

describe('the AsyncAPI document', () => {
  it('leads with each reference to something of its own', () => {
    const references = new Set(refsIn(document));
    expect(references.size).toBeGreaterThan(15);
    expect(
      [...references].filter((reference) => !reference.startsWith('#/') || find(reference) === undefined),
    ).toEqual([]);
  });

  it('uses every channel, message, server and schema that it has', () => {
    const used = new Set(refsIn(document));
    const { channels, servers, components } = document;
    const parts = [
      ...Object.keys(channels).map((name) => `#/channels/${name}`),
      ...Object.keys(servers).map((name) => `#/servers/${name}`),
      ...Object.keys(components.messages).map((name) => `#/components/messages/${name}`),
      ...Object.keys(components.schemas).map((name) => `#/components/schemas/${name}`),
    ];
    expect(parts.filter((part) => !used.has(part))).toEqual([]);
  });

  it('has the fields that AsyncAPI 3.0 asks for', () => {
    // https://www.asyncapi.com/docs/reference/specification/v3.0.0: info.title and version, server host and protocol, operation
    // action and channel; a parameter for each expression of an address.
    expect(document).toMatchObject({
      asyncapi: '3.0.0',
      info: { title: expect.any(String) as string, version: '1.2.3' },
    });
    for (const server of Object.values(document.servers))
      expect(server).toMatchObject({
        host: expect.any(String) as string,
        protocol: expect.any(String) as string,
      });
    for (const { address, ...channel } of Object.values(document.channels)) {
      const expressions = [...address.matchAll(/\{(\w+)\}/g)].map(([, name]) => String(name));
      expect(Object.keys((channel['parameters'] as object | undefined) ?? {}).toSorted()).toEqual(
        expressions.toSorted(),
      );
    }
    for (const { action, ...operation } of Object.values(document.operations)) {
      expect(['send', 'receive']).toContain(action);
      expect(operation['channel']).toMatchObject({ $ref: expect.stringMatching(/^#\/channels\//) as string });
    }
  });

  it('says what a light may be, and what stays at its topic', () => {
    expect(document.components.messages['light']).toMatchObject({ payload: { enum: [...BAY_LIGHTS] } });
    for (const name of ['publishLight', 'publishBatch'])
      expect(document.operations[name]).toMatchObject({
        action: 'send',
        bindings: { mqtt: { retain: true } },
      });
  });

  it('stands on the readable page', () => {
    const page = makeApiPage('1.2.3');
    for (const { address } of Object.values(document.channels))
      expect(page).toContain(`<code>${address}</code>`);
    expect(page).toContain('/api/v1/asyncapi.json');
  });
});
