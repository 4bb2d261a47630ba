import { describe, expect, it } from 'vitest';
import { hostileNames, paperFacts } from '../../tests/support/paperFacts.ts';
import { tableNames } from '../protocol/papers.ts';
import { csvText } from './csv.ts';
import { dataTable } from './tables.ts';

const anchor = { kind: 'place', at: [0.1, -0.2, 0] } as const;
const facts = paperFacts(
  { 'limits.wall-measured': 1 },
  {
    concessions: [
      {
        ...{
          id: 'c1',
          verdict: 'joint-gap/j1',
          title: 'Limit the gap: J1',
          value: '0.30 mm',
          limit: 'at most 0.25 mm',
        },
        ...{ reason: '=HYPERLINK("x")', by: 'Shop lead', at: '2026-03-01T10:00:00.000Z', expires: null },
        state: 'in force',
      },
    ],
    signatures: [
      {
        ...{ seq: 1, gate: 'scan', role: 'lead', name: '@Lead', meaning: 'released', at: '2026-03-01T09:30:00.000Z' },
        ...{ digest: 'd'.repeat(64), hash: 'e'.repeat(64) },
      },
    ],
    threads: [
      {
        ...{ id: 't1', n: 1, by: 'a1', state: 'open', resolvedBy: null, anchor },
        comments: hostileNames.map((text, i) => ({ id: String(i), by: 'a1', text })),
      },
    ],
  },
);
const csv = (name: (typeof tableNames)[number]): string => csvText(dataTable(name, facts)).slice(1);

describe('tables', () => {
  it('hold small jobs to the letter', () => {
    expect(csv('concessions')).toBe(
      'id,verdict,title,value,limit,reason,by,at,expires,state\r\n' +
        'c1,joint-gap/j1,Limit the gap: J1,0.30 mm,at most 0.25 mm,"\'=HYPERLINK(""x"")",Shop lead,2026-03-01T10:00:00.000Z,,in force\r\n',
    );
    expect(csv('signatures')).toBe(
      'seq,gate,role,name,meaning,at,digest,hash\r\n' +
        `1,scan,lead,'@Lead,released,2026-03-01T09:30:00.000Z,${'d'.repeat(64)},${'e'.repeat(64)}\r\n`,
    );
    expect(csv('markups').split('\r\n').slice(0, 6)).toEqual([
      'markup,state,by,text,x,y,z,unit',
      "1,open,Shop lead,'=1+2,0.1,-0.2,0,m",
      "1,open,Shop lead,'+44 7,0.1,-0.2,0,m",
      "1,open,Shop lead,'-cmd,0.1,-0.2,0,m",
      "1,open,Shop lead,'@sum,0.1,-0.2,0,m",
      '1,open,Shop lead,שלום עולם,0.1,-0.2,0,m',
    ]);
  });

  it('state numbers in SI with their unit', () => {
    const rows = dataTable('spec', facts).rows;
    expect(rows.find(([path]) => path === 'joints.j1.wall')).toEqual([
      'joints.j1.wall',
      'Runner 1 to collector: Wall at the joint',
      0.002,
      'm',
      '2.00 mm',
    ]);
    const { columns, rows: verdicts } = dataTable('verdicts', facts);
    const heat = verdicts.find(([, rule]) => rule === 'heat-input') ?? [];
    const of = (column: string) => heat[columns.indexOf(column)];
    expect([of('status'), of('low'), of('high'), of('unit')]).toEqual(['pass', null, 0.5e6, 'J/m']);
    expect(Number(of('measured')) + Number(of('margin'))).toBeCloseTo(0.5e6, 6);
  });

  it('have one row for each verdict and each gate, each as wide as its head', () => {
    expect(dataTable('verdicts', facts).rows).toHaveLength(facts.verdicts.length);
    expect(dataTable('gates', facts).rows).toHaveLength(facts.gates.length);
    for (const name of tableNames) {
      const { columns, rows } = dataTable(name, facts);
      expect(rows.length, name).toBeGreaterThan(0);
      for (const row of rows) expect(row, name).toHaveLength(columns.length);
    }
  });
});
