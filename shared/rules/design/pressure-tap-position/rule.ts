import { at, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { type Judgement, judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

const mm = 1e-3;

interface TapCheck extends RowSubject<'taps'> {
  readonly what: 'straight' | 'hole' | 'line';
}

const checks = ['straight', 'hole', 'line'] as const;

function limitOf(what: TapCheck['what'], bore: number): Judgement {
  switch (what) {
    case 'straight':
      return { limit: { kind: 'min', value: 2 * bore }, guard: 0.05 * 2 * bore };
    case 'hole':
      return { limit: { kind: 'range', low: 1.5 * mm, high: 3 * mm }, guard: 0.05 * 1.5 * mm };
    case 'line':
      return { limit: { kind: 'range', low: 300 * mm, high: 600 * mm }, guard: 0.05 * 300 * mm };
  }
}

/** Place, hole and line of each exhaust pressure tap ahead of the turbine. */
export const pressureTapPosition = defineRule({
  id: 'pressure-tap-position',
  gate: 'design',
  title: 'Require pressure taps where they read true and stay cool',
  severity: 'block',
  adjustable: false,
  branches: ['taps'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'tap >= 2 bores after a bend or merge, hole 1.5 to 3 mm, metal line of 300 to 600 mm to the transducer',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'own check: a still line of 1/4 in cools from 700 to 125 C in 50 mm of stainless or 245 mm of copper',
  },
  validity: 'Static taps flush with the bore; the line rises so that water drains back.',
  hazard:
    'A tap in a bend reads the turn, not the pressure; a short line cooks the transducer and the wastegate runs blind.',
  remedy: 'Move the tap downstream into the straight, drill it again, or coil a longer line.',
  messages: {
    straight: 'Straight run ahead of the tap.',
    hole: 'Hole where it meets the gas.',
    line: 'Metal line between tap and transducer.',
  },
  since: 1,
  subjects: ({ taps }): readonly TapCheck[] =>
    taps.flatMap((row) =>
      checks.map((what) => ({
        kind: 'sensor' as const,
        id: `${row.id}~${what}`,
        name: `${nameOf(row)}, ${what}`,
        row,
        what,
      })),
    ),
  reads: (_context, { row, what }) => {
    const path = `taps.${row.id}`;
    if (what === 'hole') return { value: at<number>(`${path}.hole`, row.hole), bore: known(0) };
    if (what === 'line') return { value: at<number>(`${path}.standoff`, row.standoff), bore: known(0) };
    return {
      value: at<number>(`${path}.afterBend`, row.afterBend),
      bore: at<number>(`${path}.bore`, row.bore),
    };
  },
  evaluate: ({ value, bore }, { what }) => judge(value, { ...limitOf(what, bore), message: what }),
});
