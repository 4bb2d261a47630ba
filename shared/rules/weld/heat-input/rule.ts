import type { Spec } from '../../../spec/spec.ts';
import { arcEnergy } from '../../../trade/weld/arc-energy.ts';
import { heatInput as heat } from '../../../trade/weld/heat-input.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Thermal efficiency of TIG by EN 1011-1. */
const thermalEfficiency = 0.6;
/** Walls the limit is for, m. */
const thinnest = 1e-3;
const thickest = 3e-3;

/** Heat input of each joint. */
export const heatInput = defineRule({
  id: 'heat-input',
  gate: 'weld',
  title: 'Limit the heat input of a joint',
  severity: 'block',
  adjustable: 'max',
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'heatPerLength',
  limit: 'heat input (k 0.6 x U x I / v) <= 0.5 kJ/mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'working limit for 1 to 3 mm walls of 625; k and the formula from EN 1011-1:2009 table 1',
  },
  validity: 'TIG with steady current on walls of 1 to 3 mm. A pulsed arc carries more than its mean values say.',
  hazard: 'Too much heat cracks 625 behind the pool, coarsens it and pulls the runner out of line.',
  remedy: 'Travel faster or lower the current; pulse, or weld in shorter lengths.',
  messages: { energy: 'Arc energy {energy} before thermal efficiency.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => ({
    wall: at<number>(`joints.${row.id}.wall`, row.wall),
    energy: derive(
      {
        voltage: at<number>(`joints.${row.id}.voltage`, row.voltage),
        current: at<number>(`joints.${row.id}.current`, row.current),
        travelSpeed: at<number>(`joints.${row.id}.travelSpeed`, row.travelSpeed),
      },
      (arc) => arcEnergy.evaluate(arc),
    ),
  }),
  evaluate: ({ wall, energy }): Outcome => {
    if (wall < thinnest || wall > thickest) {
      const range: readonly [number, number] = [thinnest, thickest];
      return {
        status: 'unknown',
        why: { reason: 'outOfValidity', input: 'wall at the joint', value: wall, range, unit: 'length' },
      };
    }
    const input = heat.evaluate({ arcEnergy: energy, thermalEfficiency });
    if (!input.known) return { status: 'unknown', why: input.why };
    return judge(input.value, { limit: { kind: 'max', value: 0.5e6 }, message: 'energy', data: { energy } });
  },
});
