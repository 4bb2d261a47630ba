import { measuredPose, selfSupport } from '../../../quantities/partFigures.ts';
import { piecesToPrint } from '../../../quantities/piecesToPrint.ts';
import type { Spec } from '../../../spec/spec.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Area that may hang, m2. Source: own: a ledge of 0.5 mm, which prints without support, along 20 mm. */
const ledge = 1e-5;

/** What hangs in the build of each printed piece without a support, or with one that cannot be taken out. */
export const overhangSupport = defineRule({
  id: 'overhang-support',
  gate: 'print-release',
  title: 'Limit surface that hangs without a support that comes out',
  severity: 'block',
  adjustable: 'max',
  branches: ['pieces', 'route'],
  cost: 'measured',
  quantity: 'area',
  limit:
    'downward surface flatter than the least angle of the powder (40 deg from the plate for 625), off the plate and unsupported or with trapped support, <= 10 mm2',
  source: {
    document: 'own: a ledge of 0.5 mm along 20 mm; least angles of the powders from bureau guides',
    trust: 'own',
    note: 'the angles are from memory and uncertain: no primary table found',
  },
  validity:
    'Angles from the plate in the stated build pose. Support counts as reached where 1.2 % of the half space before the face is open: about three diameters into a tube.',
  hazard:
    'Metal melted over loose powder sags and curls up into the recoater: the build stops. Support that stays in a bore breaks off into the turbine.',
  remedy:
    'Turn the piece in the build, make the shape a teardrop, split the piece, or plan supports that can be reached and taken off.',
  messages: {
    none: 'Without supports; {downskin} is flatter than {usual:angle} and {hanging} flatter than {least:angle}.',
    trapped:
      'Of {hanging} flatter than {least:angle}, so much is out of reach of a straight tool. Support takes {support:volume} of space, {onPart:volume} of it standing on the piece.',
  },
  since: 3,
  subjects: (spec: Spec): readonly RowSubject<'pieces'>[] =>
    piecesToPrint(spec).map((row) => ({ kind: 'piece', id: row.id, name: nameOf(row), row })),
  reads: (context, { row }) => ({
    pose: measuredPose(context, row),
    angles: selfSupport(row),
    supports: at(`pieces.${row.id}.supports`, row.supports),
  }),
  evaluate: ({ pose, angles, supports }) => {
    const bare = supports === 'none';
    const place = bare ? pose.hangingAt : pose.trappedAt;
    return judge(bare ? pose.hangingArea : pose.trappedArea, {
      limit: { kind: 'max', value: ledge },
      guard: 0.5 * ledge,
      message: bare ? 'none' : 'trapped',
      data: {
        hanging: pose.hangingArea,
        downskin: pose.downskinArea - pose.plateArea,
        usual: angles.start,
        least: angles.band[0],
        support: pose.supportToPart,
        onPart: pose.supportOnPart,
      },
      ...(place && { witness: { at: place } }),
    });
  },
});
