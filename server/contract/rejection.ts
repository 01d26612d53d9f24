// A rejection tells which field is wrong, why, and what is allowed; every door answers with the same shape.
import type { z } from 'zod';
import { describeLimit, isLimitedField } from './limits.ts';

export interface Rejection {
  /** Dotted path of the field, '' for the whole body. */
  readonly path: string;
  readonly reason: string;
  readonly allowed: string;
}

export type Parsed<T> =
  | { readonly kind: 'parsed'; readonly value: T }
  | { readonly kind: 'rejected'; readonly rejections: readonly Rejection[] };

const INSTANT_ALLOWED = 'ISO 8601 with a zone, such as 2026-01-12T07:00:00Z';

/** Parses an unknown value by a schema into a value or into rejections. */
export function parseWith<T>(schema: z.ZodType<T>, input: unknown): Parsed<T> {
  const result = schema.safeParse(input, { reportInput: true });
  return result.success
    ? { kind: 'parsed', value: result.data }
    : { kind: 'rejected', rejections: rejectionsFromIssues(result.error.issues) };
}

/** Turns a schema's issues into rejections, one a field. */
function rejectionsFromIssues(issues: readonly z.core.$ZodIssue[]): Rejection[] {
  return issues.flatMap((issue) => rejectionsFromIssue(issue));
}

function rejectionsFromIssue(issue: z.core.$ZodIssue): Rejection[] {
  const path = issue.path.map(String).join('.');
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => ({
        path: path === '' ? key : `${path}.${key}`,
        reason: 'is not a field of this body',
        allowed: 'leave it out',
      }));
    case 'too_small':
    case 'too_big':
      return [{ path, reason: sizeReason(issue), allowed: allowedFor(path, boundOf(issue)) }];
    case 'invalid_value':
      return [
        { path, reason: missingOr(issue, 'is not one of the choices'), allowed: issue.values.join(', ') },
      ];
    case 'invalid_type': {
      const wanted = WANTED[issue.expected] ?? `a ${issue.expected}`;
      return [{ path, reason: missingOr(issue, `is not ${wanted}`), allowed: allowedFor(path, wanted) }];
    }
    case 'invalid_format':
      return [{ path, reason: 'has the wrong form', allowed: formatAllowed(issue.format) }];
    case 'invalid_union':
      return [{ path, reason: 'is not one of the choices', allowed: unionAllowed(issue) }];
    case 'not_multiple_of':
    case 'invalid_key':
    case 'invalid_element':
      return [{ path, reason: issue.message, allowed: allowedFor(path, 'see the API page') }];
    case 'custom':
      return [
        { path, reason: issue.message, allowed: String(issue.params?.['allowed'] ?? 'see the API page') },
      ];
  }
}

/** The types of JSON in people's words. */
const WANTED: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'true or false',
  object: 'an object',
  array: 'a list',
};

function missingOr(issue: z.core.$ZodIssue, otherwise: string): string {
  return issue.input === undefined ? 'is missing' : otherwise;
}

function sizeReason(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig): string {
  const side = issue.code === 'too_small' ? 'small' : 'large';
  if (issue.origin === 'string' || issue.origin === 'array')
    return side === 'small' ? 'is too short' : 'is too long';
  return `is too ${side}`;
}

function boundOf(issue: z.core.$ZodIssueTooSmall | z.core.$ZodIssueTooBig): string {
  const bound = issue.code === 'too_small' ? `at least ${issue.minimum}` : `at most ${issue.maximum}`;
  if (issue.origin === 'string')
    return bound === 'at least 1' ? 'at least 1 character' : `${bound} characters`;
  return issue.origin === 'array' ? `${bound} in the list` : bound;
}

function allowedFor(path: string, otherwise: string): string {
  const field = path.slice(path.lastIndexOf('.') + 1);
  if (field === 'at' || field.endsWith('At')) return INSTANT_ALLOWED;
  return isLimitedField(field) ? describeLimit(field) : otherwise;
}

function formatAllowed(format: string): string {
  return format === 'datetime' ? INSTANT_ALLOWED : format;
}

function unionAllowed(issue: z.core.$ZodIssueInvalidUnion): string {
  return 'options' in issue && Array.isArray(issue.options) ? issue.options.join(', ') : 'see the API page';
}
