import type { Spec } from '../../../spec/spec.ts';
import type { WeldMetal } from '../../../trade/data/fillers.ts';
import { interpassLimits, type WeldFamily, type WeldLimit } from '../../../trade/data/weld-limits.ts';
import { at, derive, type Known, known, unknown } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** What a contact thermometer beside a seam is good to, K. */
const reading = 3;

/** Metals with a limit; carbon steel, 409 and cast iron have none here and follow the other side. */
const families: Readonly<Partial<Record<WeldMetal, WeldFamily>>> = {
  '304L': 'austenitic',
  '310': 'austenitic',
  '316L': 'austenitic',
  '321': 'austenitic',
  '347': 'austenitic',
  '625': 'nickel',
  '718': 'nickel',
  'alloy-x': 'nickel',
  'ti-2': 'titanium',
  'ti-6al-4v': 'titanium',
};

/** The stricter limit of the two sides. */
function limitFor(a: WeldMetal, b: WeldMetal): Known<WeldLimit> {
  const [first, second] = [families[a], families[b]].filter((family) => family !== undefined);
  if (first === undefined) {
    const detail = `expected a stainless, nickel or titanium metal on one side, got ${a} with ${b}: no limit is known`;
    return unknown({ reason: 'inconsistent', detail, paths: [] });
  }
  const [one, other] = [interpassLimits[first], interpassLimits[second ?? first]];
  return known(other.greatest < one.greatest ? other : one);
}

/** Temperature between passes of each joint, by metal. */
export const interpassTemperature = defineRule({
  id: 'interpass-temperature',
  gate: 'weld',
  title: 'Limit the temperature between passes',
  severity: 'block',
  adjustable: false,
  branches: ['joints'],
  cost: 'cheap',
  quantity: 'temperature',
  limit:
    'nickel alloys 150 C, caution above 100; stainless 175 C, caution above 150; titanium 120 C, caution above 100',
  source: {
    document: 'published 625 pipe procedure qualification (ASME IX)',
    trust: 'excerpt',
    note: '150 C for nickel alloys was read there; stainless from memory, titanium uncertain; the lower values are practice',
  },
  validity: 'TIG on thin wall. Carbon steel, 409 and cast iron have no limit here: the other side decides.',
  hazard: 'A hot part under the arc cracks behind the pool in 625, sensitises stainless, and pulls out of line.',
  remedy: 'Wait, weld elsewhere on the header, or cool the jig; never quench.',
  messages: { metal: 'Preferred at most {preferred}; limit from: {source}.' },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'joints'>[] =>
    spec.joints.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })),
  reads: (_context, { row }) => ({
    limit: derive(
      { a: at(`joints.${row.id}.metalA`, row.metalA), b: at(`joints.${row.id}.metalB`, row.metalB) },
      ({ a, b }) => limitFor(a, b),
    ),
    interpass: at<number>(`joints.${row.id}.interpass`, row.interpass),
  }),
  evaluate: ({ limit: { greatest, preferred, source }, interpass }) =>
    judge(interpass, {
      limit: { kind: 'max', value: greatest },
      advisory: { kind: 'max', value: preferred },
      guard: reading,
      limitNote: source.document,
      message: 'metal',
      data: { preferred, source: source.document },
    }),
});
