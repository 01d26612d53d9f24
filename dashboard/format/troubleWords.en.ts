// The catalogue's part for everything that is turned down: fields, acts, and what the wire says of both.
import type { RefusalCode } from '../../server/contract/index.ts';
import { makeCounted } from './plural.ts';

const counted = makeCounted('en');

export const troubleWordsEn = {
  trouble: {
    network: 'Not sent: no connection. It is kept and sent later.',
    server: 'The shop computer could not store it. It is kept and tried again.',
    refused: 'The shop computer said no.',
    rights: 'This device may not do that.',
  },
  field: {
    aNumber: (example: string) => `a number such as ${example}`,
    lookAgain: 'Not started: look at the marked fields.',
  },
  rejection: {
    line: (reason: string, allowed: string | null) =>
      allowed === null ? `This ${reason}.` : `This ${reason} (${allowed}).`,
    between: (low: string, high: string) => `${low} … ${high}`,
    characters: (count: number) =>
      counted(count, { one: 'at most # character', other: 'at most # characters' }),
    instant: 'a date and time',
    missing: 'is missing',
    tooSmall: 'is too small',
    tooLarge: 'is too large',
    tooShort: 'is too short',
    tooLong: 'is too long',
    outOfRange: 'is out of range',
    taken: 'is taken already',
    notTimeZone: 'is not a time zone',
    takesNoTime: 'is not below the sanding time',
    tooNearSanding: 'is too close to the sanding time: the mix would have to harden at once',
    tooFarFromSanding: 'is too short for the sanding time: the mix would have to gel faster than it hardens',
    notNumber: 'is not a number',
    notText: 'is not a text',
    notChoice: 'is not one of the choices',
    wrongForm: 'has the wrong form',
    wrongCharacter: 'has a character that cannot be used',
    unknownField: 'is not known to the shop computer',
    other: 'was not taken',
  },
  refusal: {
    'stage-wet': 'This mix was still wet then: there is nothing to test before it kicks.',
    'stage-not-curing': 'This one is being sanded already.',
    'stage-not-sanding': 'Nobody has started sanding this one: say "powders" first.',
    'batch-closed': 'This batch is closed.',
    'already-spread': 'This mix is marked as spread already.',
    'same-bay': 'This batch is in that bay already.',
    'before-mixing': 'That is before the batch was mixed.',
    'in-the-future': 'That time is still to come.',
    'too-long-ago': 'That lies too far back.',
    'out-of-order': 'That does not fit what is on record already.',
    'nothing-to-undo': 'There is nothing left to take back.',
    'undo-not-latest': 'Only the latest act can be taken back.',
    'undo-too-late': 'It is too late to take that back.',
    'version-stale': 'Others have changed this batch: look again.',
    'unknown-batch': 'There is no such batch.',
    'unknown-bay': 'There is no such bay in this shop.',
    'unknown-card': 'There is no such product in this shop.',
    'unknown-lamp': 'There is no such lamp in this shop.',
    'unknown-distance': 'The lamp was not measured at that distance.',
    'unknown-alert': 'There is no such alert.',
  } satisfies Record<RefusalCode, string>,
};
