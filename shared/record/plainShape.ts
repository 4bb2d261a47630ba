import { roles } from '../gates/roles.ts';
import { signingMeanings } from '../protocol/signing.ts';
import { gateIds } from '../spec/gateId.ts';

/** Whether a value is as a field wants it. */
type Fits = (value: unknown) => boolean;
/** Fields in the order of their names, as canonical text has them. */
type Shape = readonly (readonly [name: string, fits: Fits])[];

const text: Fits = (value) => typeof value === 'string';
const whole: Fits = (value) => Number.isSafeInteger(value);
const fact: Fits = (value) =>
  typeof value === 'string' || Number.isFinite(value) || typeof value === 'boolean' || value === null;

const oneOf = (values: readonly (string | number)[]): Fits => {
  const known: ReadonlySet<unknown> = new Set(values);
  return (value) => known.has(value);
};

function isRecord(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

// Of what JSON.parse made, for-in names just the members, and makes no list of them.
const fields =
  (shape: Shape): Fits =>
  (value) => {
    if (!isRecord(value)) return false;
    let at = 0;
    for (const name in value) {
      const field = shape[at++];
      if (field === undefined || field[0] !== name || !field[1](value[name])) return false;
    }
    return at === shape.length;
  };

const listOf =
  (each: Fits): Fits =>
  (value) =>
    Array.isArray(value) && value.every(each);

const valuesOf =
  (each: Fits): Fits =>
  (value) => {
    if (!isRecord(value)) return false;
    let before = '';
    for (const name in value) {
      if (name < before || name === '__proto__' || !each(value[name])) return false;
      before = name;
    }
    return true;
  };

const sorted = (shape: Shape): Shape => [...shape].sort(([a], [b]) => (a < b ? -1 : 1));
const signerBy = (how: readonly string[]): Fits =>
  fields([
    ['account', text],
    ['confirmedBy', oneOf(how)],
    ['name', text],
    ['role', oneOf(roles)],
  ]);
const signed: Shape = [
  ...(['project', 'at', 'nonce', 'previous', 'digest'] as const).map((name) => [name, text] as const),
  ['gate', oneOf(gateIds)],
  ['meaning', oneOf(signingMeanings)],
  ['ruleSet', whole],
  ['facts', valuesOf(fact)],
  ['units', valuesOf(text)],
  [
    'verdicts',
    listOf(
      fields([
        ['digest', text],
        ['key', text],
        ['status', text],
      ]),
    ),
  ],
];
const first = fields(
  sorted([...signed, ['version', oneOf([1])], ['signer', signerBy(['password'])], ['files', listOf(text)]]),
);
const secondShape: Shape = [
  ...signed,
  ['version', oneOf([2])],
  ['kind', oneOf(['signature'])],
  ['signer', signerBy(['password', 'passkey'])],
  ['seq', whole],
  ['plan', text],
  [
    'concessions',
    listOf(
      fields([
        ['hash', text],
        ['id', text],
      ]),
    ),
  ],
  [
    'files',
    listOf(
      fields([
        ['name', text],
        ['sha256', text],
      ]),
    ),
  ],
];
const second = fields(sorted(secondShape));
const withInitials = fields(sorted([...secondShape, ['initials', text]]));

/**
 * True for most signatures as they come out of canonical text, found several times as fast as by their schema: every name stands in
 * order. False says nothing: what a schema takes may be written in another order, or hold the answer of a passkey. Never true for what
 * the schema refuses.
 */
export function plainSignature(value: unknown): boolean {
  return withInitials(value) || second(value) || first(value);
}
