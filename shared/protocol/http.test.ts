import { describe, expect, it } from 'vitest';
import { TILES_VERSION } from '../geometry/tiles.ts';
import {
  acceptInviteSchema,
  meshQuerySchema,
  newProjectSchema,
  setupSchema,
  signInSchema,
  uploadMetadataSchema,
} from './http.ts';
import { tileBytesLimit, tileIndexSchema, tileStretchSchema } from './tiles.ts';

const index = { version: TILES_VERSION, points: 0, origin: [0, 0, 0], stamp: '00c0ffee', levels: [] };
const person = { name: 'Lead', login: 'lead', password: 'x' };

describe('what people type is made plain', () => {
  it.each([
    ['Lead', 'lead'],
    ['  LEAD@Shop.example ', 'lead@shop.example'],
    ['E\u0301va', '\u00e9va'],
  ])('login %j', (typed, login) => {
    expect(signInSchema.parse({ login: typed, password: 'x' }).login).toBe(login);
  });

  it('name', () => {
    expect(newProjectSchema.parse({ name: '  Hill climb\u2019s header ' })).toEqual({
      name: 'Hill climb\u2019s header',
    });
  });

  it('password is left as it was typed', () => {
    expect(signInSchema.parse({ login: 'a', password: '  x  ' }).password).toBe('  x  ');
  });
});

describe('what does not fit is refused', () => {
  it.each([
    ['a login of 65 characters', signInSchema, { login: 'a'.repeat(65), password: 'x' }],
    ['a login with a space inside', signInSchema, { login: 'a b', password: 'x' }],
    ['an empty password', signInSchema, { login: 'a', password: '' }],
    ['a password of 257 characters', signInSchema, { login: 'a', password: 'x'.repeat(257) }],
    ['an unknown field', signInSchema, { login: 'a', password: 'x', role: 'lead' }],
    ['a name of 121 characters', newProjectSchema, { name: 'a'.repeat(121) }],
    ['a name of blanks', newProjectSchema, { name: ' \t ' }],
    ['a name with a control character', newProjectSchema, { name: 'a\u0007b' }],
    ['setup without a code', setupSchema, person],
    ['half an account', acceptInviteSchema, { name: 'a', login: 'a' }],
    ['both an account and the signed-in one', acceptInviteSchema, { ...person, accept: true }],
    ['a unit that is no length of scans', uploadMetadataSchema, { project: 'p', filename: 'f', unit: 'ft' }],
    [
      'a use that is neither scan nor part',
      uploadMetadataSchema,
      { project: 'p', filename: 'f', unit: 'mm', use: 'x' },
    ],
    ['a form nobody writes', meshQuerySchema, { format: 'zip' }],
    ['two turns', meshQuerySchema, { format: 'stl', turn: '1,2' }],
    ['a turn beyond half a round', meshQuerySchema, { format: 'stl', turn: '0,0,3.2' }],
    ['an empty turn', meshQuerySchema, { format: 'stl', turn: '0,,0' }],
    ['no stretch', tileStretchSchema, '5-5'],
    ['a stretch backwards', tileStretchSchema, '9-5'],
    ['half a stretch', tileStretchSchema, '5-'],
    ['a stretch of parts of bytes', tileStretchSchema, '0-1.5'],
    ['too long a stretch', tileStretchSchema, `0-${tileBytesLimit + 1}`],
    ['tiles of another version', tileIndexSchema, { ...index, version: 99 }],
    ['half a tile', tileIndexSchema, { ...index, levels: [{ voxel: 0, side: 1, step: 1, tiles: [0, 0, 0, 1] }] }],
  ])('%s', (_, schema, value) => {
    expect(schema.safeParse(value).success).toBe(false);
  });
});

it('a stretch of tiles is read as numbers', () => {
  expect(tileStretchSchema.parse('12-4096')).toEqual({ from: 12, end: 4096 });
});

it('takes a file for a scan when nothing is said', () => {
  const metadata = { project: 'p', filename: 'f', unit: 'mm' };
  expect(uploadMetadataSchema.parse(metadata).use).toBe('scan');
  expect(uploadMetadataSchema.parse({ ...metadata, use: 'part' }).use).toBe('part');
});

it('reads the turns of a part that is taken away', () => {
  expect(meshQuerySchema.parse({ format: 'stl', turn: '0,-1.5,3.14' }).turn).toEqual([0, -1.5, 3.14]);
  expect(meshQuerySchema.parse({ format: '3mf' }).turn).toBeUndefined();
});
