import { expect, it } from 'vitest';
import { logRow } from '../../tests/support/recordLog.ts';
import { seededRandom } from '../geometry/random.ts';
import { plainSignature } from './plainShape.ts';
import { CHAIN_START, signatureV1, signatureV2 } from './statement.ts';

const v1 = logRow('p', 1, CHAIN_START).statement;
const v2 = v1
  .replace('"digest"', '"concessions":[{"hash":"h","id":"c"}],"digest"')
  .replace('"files":[]', '"files":[{"name":"bay","sha256":"f"}]')
  .replace('"meaning"', '"initials":"A","kind":"signature","meaning"')
  .replace('"previous"', '"plan":"d","previous"')
  .replace('"signer"', '"seq":3,"signer"')
  .replace('"version":1', '"version":2');

/** Every change of one member or of the kind of its value, at every depth. */
function* changed(value: unknown): Generator<unknown> {
  yield* [null, 7, 1.5, 'text', true, [], {}, [value], { more: value }, Number.POSITIVE_INFINITY].filter(
    (one) => one !== value,
  );
  if (typeof value !== 'object' || value === null) return;
  if (Array.isArray(value)) {
    for (const [i, member] of value.entries())
      for (const other of changed(member)) yield value.map((one, k) => (k === i ? other : one));
    return;
  }
  const members = Object.entries(value);
  yield { ...value, more: 1 };
  yield Object.fromEntries([...members].reverse());
  for (const [name, member] of members) {
    yield Object.fromEntries(members.filter(([one]) => one !== name));
    for (const other of changed(member)) yield { ...value, [name]: other };
  }
}

it('knows signatures of both versions as their text has them', () => {
  for (const text of [v1, v2, v2.replace('"initials":"A",', '')]) {
    const value = JSON.parse(text);
    expect(plainSignature(value)).toBe(true);
    expect(signatureV1.safeParse(value).success || signatureV2.safeParse(value).success).toBe(true);
  }
});

it('takes nothing that the schemas refuse, whatever one thing is changed', () => {
  let [refused, all] = [0, 0];
  for (const text of [v1, v2])
    for (const value of changed(JSON.parse(text))) {
      const allowed = [signatureV1.safeParse(value), signatureV2.safeParse(value)].find(({ success }) => success);
      all += 1;
      if (!plainSignature(value)) refused += 1;
      else expect(allowed?.data, JSON.stringify(value)).toEqual(value);
    }
  expect(all).toBeGreaterThan(400);
  expect(refused).toBeGreaterThan(300);
});

it('takes nothing that the schemas refuse, whatever letter is another one', () => {
  const random = seededRandom(7);
  for (let i = 0; i < 3_000; i++) {
    const text = random() < 0.5 ? v1 : v2;
    const at = Math.floor(random() * text.length);
    const other = text.slice(0, at) + String.fromCharCode(32 + Math.floor(random() * 90)) + text.slice(at + 1);
    let value: unknown;
    try {
      value = JSON.parse(other);
    } catch {
      continue;
    }
    if (plainSignature(value))
      expect(signatureV1.safeParse(value).success || signatureV2.safeParse(value).success, other).toBe(true);
  }
});
