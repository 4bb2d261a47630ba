import { describe, expect, it } from 'vitest';
import { sheetSections } from '../../shared/spec/fields.ts';
import { findIn } from './findField.ts';

const section = (branch: string) => {
  const found = sheetSections.find((s) => s.branch === branch);
  if (!found) throw new Error(`no section ${branch}`);
  return found;
};

describe('findIn', () => {
  it('finds everything with nothing to look for', () => {
    expect(findIn(section('tube'), '')).toBe('all');
    expect(findIn(section('tube'), '  ')).toBe('all');
  });

  it('finds a field by words of its label in any order and case', () => {
    expect(findIn(section('tube'), 'WALL temperature')).toEqual(new Set(['wallTemperature']));
    expect(findIn(section('tube'), 'temperature wall')).toEqual(new Set(['wallTemperature']));
  });

  it('finds a whole section by its title, and a field with the title’s words beside its own', () => {
    expect(findIn(section('stud'), 'stud')).toBe('all');
    expect(findIn(section('flange'), 'head flange thickness')).toEqual(new Set(['thickness']));
  });

  it('finds nothing where nothing says it', () => {
    expect(findIn(section('tube'), 'torque')).toBe('none');
  });

  it('finds fields of collections', () => {
    expect(findIn(section('joints'), 'tacks')).toEqual(new Set(['tacks']));
  });
});
