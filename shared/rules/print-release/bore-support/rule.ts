import { measuredBores, selfSupport } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { printFeatures, selfSupportingAngles } from '../../../trade/data/print-limits.ts';
import { boreCrown } from '../../../trade/print/bore-crown.ts';
import { teardropApex } from '../../../trade/print/teardrop-apex.ts';
import { at, derive, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Greatest bore that carries its crown however it lies, m. */
const small = printFeatures.horizontalBore.start;

/** How flat the bores of the runners lie in the build of each printed piece. */
export const boreSupport = defineRule({
  id: 'bore-support',
  gate: 'print-release',
  title: 'Require bores that carry their own crown in the build',
  severity: 'block',
  adjustable: false,
  branches: ['pieces', 'runners', 'tube', 'flange', 'route'],
  cost: 'measured',
  quantity: 'angle',
  limit:
    'axis of every bore over 8 mm >= least angle of the powder from the plate (40 deg for 625, below 45 deg caution), where no straight tool reaches its support',
  source: selfSupportingAngles['625'].source,
  validity:
    'Round bores about the runners of the spec where they run through the piece, whose file lies in car coordinates. With removable supports only places out of reach count.',
  hazard:
    'The crown of a flat bore droops by 0.1 to 0.5 mm and grows dross; a support inside a bent runner does not come out again.',
  remedy: 'Tilt the piece so that the axis stands steeper, split the runner at the bend, or make the bore a teardrop.',
  messages: {
    crown:
      'Bore {diameter:length}: the strip of its crown that does not carry itself at {usual} is {chord:length} wide; as a teardrop it would rise {apex:length} over its centre.',
  },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({
    runners: context.memo('runner-ids', [context.spec.runners], () => known(context.spec.runners.map(({ id }) => id))),
    bores: measuredBores(context, row),
    angles: selfSupport(row),
    supports: at(`pieces.${row.id}.supports`, row.supports),
  }),
  evaluate: ({ runners, bores: { flattest, hidden }, angles, supports }): Outcome => {
    if (!flattest) return { status: 'notApplicable', because: 'no runner of the spec runs through it' };
    const place = supports === 'removable' ? hidden : flattest;
    if (!place) return { status: 'notApplicable', because: 'a straight tool reaches the support of every bore' };
    if (place.diameter <= small)
      return { status: 'notApplicable', because: 'a bore of at most 8 mm carries its crown however it lies' };
    const { tilt, diameter } = place;
    const runner = runners[place.tube];
    const crown = derive(
      {
        strip: boreCrown({ diameter, limitAngle: angles.start, tilt }),
        apex: teardropApex.evaluate({ diameter, limitAngle: angles.start }),
      },
      ({ strip, apex }) => ({ chord: strip.chord, apex }),
    );
    if (!crown.known) return { status: 'unknown', why: crown.why };
    return judge(tilt, {
      limit: { kind: 'min', value: angles.band[0] },
      advisory: { kind: 'min', value: angles.start },
      message: 'crown',
      data: { diameter, usual: angles.start, ...crown.value },
      witness: { at: place.at, ...(runner !== undefined && { runner, s: place.s }) },
    });
  },
});
