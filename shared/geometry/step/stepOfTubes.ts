import { ABSENT, type Ref, StepFile, UNNAMED } from './stepFile.ts';
import { type TubeSolid, tubeSolid } from './tubeSolid.ts';

/** A tube with the name it is to carry. */
export interface NamedTube extends TubeSolid {
  readonly name: string;
}

/**
 * Bent tubes as one STEP file (AP214, millimetres): each a solid of cylinders and tori, exact, in header coordinates.
 * @param about name of the whole and the time it is written, ISO 8601
 * @throws RangeError for a tube whose inside is not smaller than its outside
 */
export function stepOfTubes(
  tubes: readonly NamedTube[],
  about: { readonly name: string; readonly time: string },
): string {
  const file = new StepFile();
  const context = lengthContext(file);
  const solids = tubes.map((tube) => {
    if (!(tube.innerRadius > 0 && tube.innerRadius < tube.outerRadius))
      throw new RangeError(
        `expected an inside radius between 0 and ${tube.outerRadius} m, got ${tube.innerRadius} m (${tube.name})`,
      );
    return tubeSolid(file, tube, tube.name);
  });
  const zero = file.placement([0, 0, 0], [0, 0, 1], [1, 0, 0]);
  const shape = file.add('ADVANCED_BREP_SHAPE_REPRESENTATION', { text: about.name }, [zero, ...solids], context);
  product(file, about.name, shape);
  return file.text({ ...about, description: 'bent tubes, exact, millimetres' });
}

/** Millimetres, radians, and how near two places may be to count as one. */
function lengthContext(file: StepFile): Ref {
  const length = file.addComplex(
    ['LENGTH_UNIT'],
    ['NAMED_UNIT', { word: '*' }],
    ['SI_UNIT', { word: '.MILLI.' }, { word: '.METRE.' }],
  );
  const angle = file.addComplex(
    ['NAMED_UNIT', { word: '*' }],
    ['PLANE_ANGLE_UNIT'],
    ['SI_UNIT', ABSENT, { word: '.RADIAN.' }],
  );
  const solid = file.addComplex(
    ['NAMED_UNIT', { word: '*' }],
    ['SI_UNIT', ABSENT, { word: '.STERADIAN.' }],
    ['SOLID_ANGLE_UNIT'],
  );
  const near = file.add(
    'UNCERTAINTY_MEASURE_WITH_UNIT',
    { word: 'LENGTH_MEASURE(1.E-6)' },
    length,
    { text: 'distance_accuracy_value' },
    { text: '' },
  );
  return file.addComplex(
    ['GEOMETRIC_REPRESENTATION_CONTEXT', { word: '3' }],
    ['GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT', [near]],
    ['GLOBAL_UNIT_ASSIGNED_CONTEXT', [length, angle, solid]],
    ['REPRESENTATION_CONTEXT', UNNAMED, UNNAMED],
  );
}

/** What AP214 asks for around a shape. */
function product(file: StepFile, name: string, shape: Ref): void {
  const application = file.add('APPLICATION_CONTEXT', { text: 'automotive design' });
  file.add(
    'APPLICATION_PROTOCOL_DEFINITION',
    { text: 'international standard' },
    { text: 'automotive_design' },
    { word: '2000' },
    application,
  );
  const stage = file.add('PRODUCT_CONTEXT', UNNAMED, application, { text: 'mechanical' });
  const made = file.add('PRODUCT', { text: name }, { text: name }, UNNAMED, [stage]);
  file.add('PRODUCT_RELATED_PRODUCT_CATEGORY', { text: 'part' }, ABSENT, [made]);
  const formation = file.add('PRODUCT_DEFINITION_FORMATION', UNNAMED, UNNAMED, made);
  const view = file.add('PRODUCT_DEFINITION_CONTEXT', { text: 'part definition' }, application, { text: 'design' });
  const definition = file.add('PRODUCT_DEFINITION', UNNAMED, UNNAMED, formation, view);
  const held = file.add('PRODUCT_DEFINITION_SHAPE', UNNAMED, UNNAMED, definition);
  file.add('SHAPE_DEFINITION_REPRESENTATION', held, shape);
}
