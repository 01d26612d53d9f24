// The API's description names the calls that there are, with their bodies, answers and problems.
import { expect, it } from 'vitest';
import { makeApiPage, makeOpenApi } from '../../../server/adapters/http/openApi.ts';

const document = makeOpenApi('0.0.0') as unknown as {
  paths: Record<string, Record<string, { requestBody?: unknown; responses: Record<string, unknown> }>>;
};

it.each<[string, string, string]>([
  ['/settings', 'get', 'Settings'],
  ['/settings', 'put', 'Settings'],
  ['/cards/previews', 'post', 'CardPreview'],
  ['/cards/{id}', 'get', 'CardSetup'],
  ['/cards/{id}', 'put', 'CardSetup'],
  ['/sensors/{id}', 'get', 'Sensor'],
  ['/sensors/{id}', 'put', 'Sensor'],
])('describes %s %s by its answer %s', (path, method, answer) => {
  const operation = document.paths[path]?.[method];
  expect(JSON.stringify(operation?.responses)).toContain(`#/components/schemas/${answer}`);
  expect(JSON.stringify(operation?.responses['default'])).toContain('Problem');
  expect(operation?.requestBody === undefined).toBe(method === 'get');
});

it('describes the copy of a shop as a file', () => {
  expect(document.paths['/backup']?.['get']?.responses).toMatchObject({
    '200': { content: { 'application/vnd.sqlite3': { schema: { format: 'binary' } } } },
  });
});

it('shows them on the readable page', () => {
  const page = makeApiPage('0.0.0');
  for (const path of ['/settings', '/cards/{id}', '/cards/previews', '/backup'])
    expect(page).toContain(`<code>${path}</code>`);
});

it('describes what webhooks are sent, and shows it on the page', () => {
  const { webhooks } = makeOpenApi('0.0.0') as unknown as { webhooks: Record<string, { post: object }> };
  expect(JSON.stringify(webhooks['alert']?.post)).toContain('#/components/schemas/WebhookMessage');
  for (const header of ['webhook-id', 'webhook-timestamp', 'webhook-signature'])
    expect(makeApiPage('0.0.0')).toContain(header);
});
