import { describe, expect, it } from 'vitest';
import { passwordProblem } from './password-policy.ts';

const own = ['Lea Ostrom', 'lea.ostrom'];

describe('a password is accepted', () => {
  it.each([
    ['four unrelated words', 'copper lantern oyster vigil'],
    ['exactly 15 characters', 'tin moss 7 quay'],
    ['letters only', 'vermilionstaircase'],
    ['digits only, drawn by chance', '829104756612390'],
    ['256 characters', `${'wq3 '.repeat(62)}vermilio`],
    ['a blocked word among others', 'my turbo sings at dusk'],
    ['any script', 'кочевник медный чайник'],
  ])('%s', (_, password) => {
    expect(passwordProblem(password, own)).toBeUndefined();
  });
});

describe('a password is refused', () => {
  it.each([
    ['14 characters', 'tin moss 7 qua', '14 characters; use at least 15'],
    ['14 characters that are 15 before normalising', 'tin moss 7 qe\u0301a'.slice(0, 15), '14 characters'],
    ['257 characters', `${'wq3 '.repeat(64)}v`, 'more than 256'],
    ['one key held down', 'zzzzzzzzzzzzzzzzzz', 'repeats'],
    ['a short pattern', 'xoxoxoxoxoxoxoxoxo', 'repeats'],
    ['counting', '0123456789012345', 'in order'],
    ['counting down', '9876543210987654', 'in order'],
    ['blocked words only', 'Password-Password-1', 'tries first'],
    ['a keyboard row and digits', 'qwertyuiop12345', 'tries first'],
    ['trade words and a year', 'Turbo Header Flange 2026', 'tries first'],
    ['the product', 'slipjointslipjoint!', 'tries first'],
    ['their own name', 'lea-ostrom-LEA-2026', 'your own name'],
  ])('%s', (_, password, problem) => {
    expect(passwordProblem(password, own)).toContain(problem);
  });
});
