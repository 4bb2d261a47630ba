import { runnerRuptureStress } from '../../../quantities/ruptureLimit.ts';
import { massPerRoot } from '../../../quantities/turboLoad.ts';
import { cantileverBendingStress } from '../../../trade/strength/cantilever-bending-stress.ts';
import { hoopStress } from '../../../trade/strength/hoop-stress.ts';
import { ruptureUtilisation } from '../../../trade/strength/rupture-utilisation.ts';
import { tubeSectionModulus } from '../../../trade/strength/tube-section-modulus.ts';
import { at, derive } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Standard atmosphere, Pa. */
const atmosphere = 101325;
/** Share of the wrought rupture stress printed metal is trusted with. */
const printedShare = 0.8;
/** Uncertainty of rupture stress from memory and of the trusted share. */
const guard = 0.05;

/** Steady stress at the runner roots that carry the turbo, against the rupture stress for the stated life. */
export const turboRupture = defineRule({
  id: 'turbo-rupture',
  gate: 'design',
  title: 'Limit the steady stress of the runner roots to what they bear for their life at heat',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'turbo', 'tube', 'engine', 'route', 'service', 'materials'],
  fields: { engine: ['exhaustPressure'] },
  cost: 'cheap',
  quantity: 'share',
  limit: 'steady stress / rupture stress for the stated life <= 100 %; printed metal counts at 80 %',
  source: {
    document: 'own: ratio against published rupture stress (Larson-Miller, C = 20)',
    trust: 'memory',
    note: '625 takes the lower of a maker set (excerpt) and a handbook set (memory); 80 % for printed metal is common practice',
  },
  validity:
    'Alloys with published rupture points (304, 625). Dead weight and mean pressure only: shaking belongs to fatigue, restraint to runner-growth. Short of the first point the stress there is used, which is on the safe side.',
  hazard:
    'A root that creeps sags under the turbo until it cracks beside the weld, with hot gas open to what is near it.',
  remedy: 'Brace the turbo, shorten the arm, thicken the roots, or bring the wall temperature down.',
  messages: { against: 'Steady {steady:stress}, rupture stress {rupture:stress} for the stated life.' },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    spec.runners.length === 0 ? [] : [{ kind: 'job', id: 'header', name: 'Runner roots under the turbo' }],
  reads: (context) => {
    const { tube, turbo, engine, route } = context.spec;
    const outsideDiameter = at<number>('tube.outsideDiameter', tube.outsideDiameter);
    const wall = at<number>('tube.wall', tube.wall);
    const pressure = at<number>('engine.exhaustPressure', engine.exhaustPressure);
    return {
      rupture: runnerRuptureStress(context),
      made: at('route.made', route.made),
      bending: derive(
        {
          mass: massPerRoot(context),
          arm: at<number>('turbo.arm', turbo.arm),
          unsupportedShare: at<number>('turbo.unsupportedShare', turbo.unsupportedShare),
          sectionModulus: derive({ outsideDiameter, wall }, (v) => tubeSectionModulus.evaluate(v)),
        },
        (v) => cantileverBendingStress.evaluate({ ...v, dynamicFactor: 1 }),
      ),
      hoop: derive({ outsideDiameter, wall, pressure }, (v) =>
        hoopStress.evaluate({ ...v, pressure: Math.max(0, v.pressure - atmosphere) }),
      ),
      jointFactor: at<number>('turbo.jointFactor', turbo.jointFactor),
    };
  },
  evaluate: ({ rupture, made, bending, hoop, jointFactor }) => {
    // Pressure pulls along the tube with half of what it pulls round it.
    const steady = Math.max(hoop, jointFactor * (bending + hoop / 2));
    const trustedShare = made === 'fabricated' ? 1 : printedShare;
    const used = ruptureUtilisation.evaluate({ stress: steady, ruptureStress: rupture, trustedShare });
    if (!used.known) return { status: 'unknown', why: used.why };
    return judge(used.value, {
      limit: { kind: 'max', value: 1 },
      guard,
      message: 'against',
      data: { steady, rupture: trustedShare * rupture },
    });
  },
});
