import { describe, expect, it } from 'vitest';
import { isRole, may, type Operation, operations, type Role, roles } from './roles.ts';

const all = 'lead designer scanner printer machinist welder reviewer';

// Written out by hand, from the agreement: a change of the authority table has to be made twice.
const expected: Record<Operation, string> = {
  read: all,
  editSpec: 'lead designer scanner printer machinist welder',
  comment: all,
  upload: 'lead designer scanner',
  plan: 'lead',
  concede: 'lead',
  invite: 'lead',
  manage: 'lead',
  export: all,
};

describe.each(operations)('%s', (operation) => {
  it.each(roles)('by a %s', (role) => {
    expect(may([role], operation)).toBe(expected[operation].split(' ').includes(role));
  });

  it('is not for somebody without a role', () => {
    expect(may([], operation)).toBe(false);
  });
});

it('takes the best of several roles', () => {
  const held: Role[] = ['reviewer', 'scanner'];
  expect([may(held, 'upload'), may(held, 'editSpec'), may(held, 'invite')]).toEqual([true, true, false]);
});

it.each(['owner', '', 'Lead', 'toString', '__proto__'])('knows that %j is no role', (text) => {
  expect(isRole(text)).toBe(false);
});
