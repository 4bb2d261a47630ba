import { expect, it } from 'vitest';
import { acceptedFiles, fileKind, formatName } from './fileKinds.ts';

it.each([
  ['bay.e57', ['scan'], true],
  ['bay.XYZ', ['scan'], false],
  ['collector.step', ['part'], true],
  ['collector.STP', ['part'], true],
  ['collector.3mf', ['part'], true],
  ['collector.glb', ['part'], true],
  ['collector.obj', ['part'], false],
  ['collector.v2.stl', ['scan', 'part'], false],
  ['collector.ply', ['scan', 'part'], false],
  ['collector.unknown', ['scan', 'part'], false],
  ['collector', ['scan', 'part'], false],
])('%s can be %j', (name, uses, statesUnit) => {
  expect(fileKind(name)).toEqual({ uses, statesUnit });
});

it('offers every kind in the file dialog', () => {
  expect(acceptedFiles.split(',')).toHaveLength(15);
  expect(acceptedFiles).toMatch(/\.step,.*\.glb/);
});

it.each([
  ['ply-binary-be', 'PLY, binary'],
  ['text', 'rows of text'],
  ['e57', 'E57'],
])('calls %s %s', (format, name) => {
  expect(formatName(format)).toBe(name);
});
