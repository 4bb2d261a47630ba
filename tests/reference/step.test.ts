import {
  EdgeCurve,
  EdgeLoop,
  type Entity,
  FaceBound,
  OrientedEdge,
  parseRepository,
  Ref,
  type Repository,
  Unknown,
} from 'stepts';
import { describe, expect, it } from 'vitest';
import { buildCentreline, type Centreline } from '../../shared/geometry/centreline.ts';
import { type Piece, pointOnPiece } from '../../shared/geometry/piece.ts';
import { seededRandom } from '../../shared/geometry/random.ts';
import { type NamedTube, stepOfTubes } from '../../shared/geometry/step/stepOfTubes.ts';
import { surfaceArea, wallVolume } from '../../shared/geometry/tube.ts';
import { add, along, distance, scale, subtract, unit, type Vec3 } from '../../shared/geometry/vector.ts';
import { runnerLength } from '../../shared/quantities/centreline.ts';
import { MemoStore } from '../../shared/quantities/context.ts';
import { headerStep } from '../../shared/quantities/headerStep.ts';
import { unknown } from '../../shared/units/known.ts';
import { makeSpec } from '../support/baseSpec.ts';
import { apart, judgedBy } from './judge.ts';
import { type JudgedFile, type JudgedSolid, judgedFiles, stepSolids } from './stepSolid.ts';

/*
 * Our STEP files before two judges that share no code with the modeller that shared/geometry/step/step.test.ts reads them back by:
 * stepts (npm, MIT), a reader of ISO 10303-21 with a class for each type, for the topology; and tests/reference/stepSolid.py, which
 * integrates over the faces with NumPy and SciPy, for the geometry. Closed forms: Pappus (memory).
 */

type Node = readonly [x: number, y: number, z: number, radius: number];

function line(nodes: readonly Node[]): Centreline {
  const centreline = buildCentreline(nodes.map(([x, y, z, radius]) => ({ x, y, z, radius })));
  if (!centreline.ok) throw new Error(JSON.stringify(centreline));
  return centreline;
}

const thin = { outerRadius: 0.0212, innerRadius: 0.0192 };
/** Turns by this many degrees in a plane, between straights of 20 mm. */
function turnOf(degrees: number, radius: number): readonly Node[] {
  const angle = (degrees * Math.PI) / 180;
  const leg = radius * Math.tan(angle / 2) + 0.02;
  const end: Vec3 = [leg + leg * Math.cos(angle), leg * Math.sin(angle), 0.01];
  return [
    [0, 0, 0.01, 0],
    [leg, 0, 0.01, radius],
    [...end, 0],
  ];
}

const random = seededRandom(21);
const between = (low: number, high: number): number => low + (high - low) * random();
/** A tube of four bends somewhere, of any size of section (seed 21). */
function anyTube(name: string): NamedTube {
  const outerRadius = between(0.01, 0.03);
  const nodes = Array.from({ length: 6 }, (_, i): Node => {
    const side = (): number => between(-0.12, 0.12);
    return [0.25 * i + side(), side(), side(), between(1.2, 2) * outerRadius];
  });
  return { name, centreline: line(nodes), outerRadius, innerRadius: outerRadius * between(0.3, 0.97) };
}

const tubes: readonly NamedTube[] = [
  {
    ...thin,
    name: 'straight',
    centreline: line([
      [0.3, 0, 0, 0],
      [0.3, 0.1, 0, 0],
    ]),
  },
  {
    ...thin,
    name: 'bends in two planes',
    centreline: line([
      [0, 0, 0, 0],
      [0, 0.15, 0.02, 0.06],
      [0.1, 0.2, -0.15, 0.05],
      [0.1, 0.3, -0.3, 0],
    ]),
  },
  { ...thin, name: 'a bend of 179 degrees', centreline: line(turnOf(179, 0.04)) },
  { ...thin, name: 'a bend of a tenth of a degree', centreline: line(turnOf(0.1, 0.04)) },
  {
    ...thin,
    name: 'a bend and nothing else',
    centreline: line([
      [0, 0, 0, 0],
      [0.05, 0, 0, 0.05],
      [0.05, 0, 0.05, 0],
    ]),
  },
  {
    ...thin,
    name: 'two bends without a straight between',
    centreline: line([
      [0, 0, 0, 0],
      [0.05, 0, 0, 0.05],
      [0.05, 0.1, 0, 0.05],
      [0.05, 0.1, 0.07, 0],
    ]),
  },
  {
    outerRadius: 0.02,
    innerRadius: 0.001,
    name: 'a thick wall in a bend hardly wider than the tube',
    centreline: line(turnOf(90, 0.0201)),
  },
  {
    outerRadius: 0.02,
    innerRadius: 0.0199,
    name: 'a wall of a tenth of a millimetre',
    centreline: line(turnOf(60, 0.03)),
  },
  { ...thin, name: String.raw`Runner 'é' «2» \ 管 😀`, centreline: line(turnOf(30, 0.03)) },
  ...Array.from({ length: 8 }, (_, i) => anyTube(`any ${i + 1}`)),
];
const about = { name: 'Header', time: '2026-01-02T03:04:05Z' };
const textOf = (...some: readonly NamedTube[]): string => stepOfTubes(some, about);
/** Plain names: of a backslash before the closing quote stepts makes no end. */
const plainText = textOf(...tubes.map((tube, i) => ({ ...tube, name: `tube ${i + 1}` })));

/** Faces, edges and vertices of a tube of so many pieces: two walls a piece and two rings; two circles where pieces meet, two seams a piece. */
const countsOf = (pieces: number) => ({ faces: 2 * pieces + 2, edges: 4 * pieces + 2, vertices: 2 * pieces + 2 });
const pieces = tubes.map(({ centreline }) => centreline.pieces.length);
const sumOf = (numbers: readonly number[]): number => numbers.reduce((a, b) => a + b, 0);

describe('topology, by stepts 0.0.2', () => {
  const repository = parseRepository(plainText);
  const entities = repository.entries().map(([, entity]) => entity);
  const count = (type: string): number => entities.filter((entity) => entity.type === type).length;

  it('every entity has a class, but the units and their context, which are of several types, and their tolerance', () => {
    const unknown = entities.filter((entity) => entity instanceof Unknown).map((entity) => entity.toStep());
    expect(unknown.map((text) => text.match(/[A-Z_]{5,}(?=\()/g))).toEqual([
      ['LENGTH_UNIT', 'NAMED_UNIT', 'SI_UNIT'],
      ['NAMED_UNIT', 'PLANE_ANGLE_UNIT', 'SI_UNIT'],
      ['NAMED_UNIT', 'SI_UNIT', 'SOLID_ANGLE_UNIT'],
      ['UNCERTAINTY_MEASURE_WITH_UNIT', 'LENGTH_MEASURE'],
      [
        'GEOMETRIC_REPRESENTATION_CONTEXT',
        'GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT',
        'GLOBAL_UNIT_ASSIGNED_CONTEXT',
        'REPRESENTATION_CONTEXT',
      ],
    ]);
  });

  it('every reference resolves', () => {
    const references = entities.flatMap((entity) => referencesOf(Object.values(entity)));
    expect(references.length).toBeGreaterThan(entities.length);
    for (const reference of references) expect(reference.resolve(repository)).toBeDefined();
  });

  it('solids, faces, edges, loops and vertices are as many as tubes of genus 1 have', () => {
    const all = pieces.map(countsOf);
    expect(count('MANIFOLD_SOLID_BREP')).toBe(tubes.length);
    expect(count('CLOSED_SHELL')).toBe(tubes.length);
    expect(count('ADVANCED_FACE')).toBe(sumOf(all.map(({ faces }) => faces)));
    expect(count('EDGE_CURVE')).toBe(sumOf(all.map(({ edges }) => edges)));
    expect(count('VERTEX_POINT')).toBe(sumOf(all.map(({ vertices }) => vertices)));
    expect(count('FACE_OUTER_BOUND')).toBe(count('ADVANCED_FACE'));
    expect(count('FACE_BOUND')).toBe(2 * tubes.length);
    // Euler-Poincare: V - E + F - holes = 2 (solids - handles), here one handle a solid.
    expect(count('VERTEX_POINT') - count('EDGE_CURVE') + count('ADVANCED_FACE') - count('FACE_BOUND')).toBe(0);
  });

  it('every edge is used by two oriented edges, once each way, and every oriented edge by one loop', () => {
    const uses = new Map<number, boolean[]>();
    for (const entity of entities)
      if (entity instanceof OrientedEdge)
        uses.set(entity.edge.id, [...(uses.get(entity.edge.id) ?? []), entity.orientation]);
    expect(uses.size).toBe(count('EDGE_CURVE'));
    for (const [edge, ways] of uses) {
      expect(repository.get(entityId(repository, edge))).toBeInstanceOf(EdgeCurve);
      expect(ways.toSorted()).toEqual([false, true]);
    }
    const inLoops = entities.flatMap((entity) => (entity instanceof EdgeLoop ? entity.edges.map(({ id }) => id) : []));
    expect(new Set(inLoops).size).toBe(inLoops.length);
    expect(inLoops).toHaveLength(count('ORIENTED_EDGE'));
  });

  it('each ring has a hole', () => {
    const holes = entities.filter((entity) => entity instanceof FaceBound && entity.type === 'FACE_BOUND');
    expect(holes).toHaveLength(2 * tubes.length);
  });

  it('its own writer gives a file that reads the same, entity by entity', () => {
    const again = parseRepository(repository.toPartFile({ name: 'again' }));
    expect(again.entries().map(asTold)).toEqual(repository.entries().map(asTold));
  });
});

/** The id of an entity as the reader brands it. */
function entityId(repository: Repository, id: number) {
  const found = repository.entries().find(([one]) => one === id);
  if (!found) throw new Error(`expected #${id}`);
  return found[0];
}

function referencesOf(values: readonly unknown[]): readonly Ref<Entity>[] {
  return values.flatMap((value) => {
    if (value instanceof Ref) return [value];
    return Array.isArray(value) ? referencesOf(value) : [];
  });
}

/** An entity with all its values; what is of several types keeps its text but for white space. */
const asTold = ([id, entity]: ReturnType<Repository['entries']>[number]): string =>
  `#${id} ${JSON.stringify(entity).replace(/\\n/g, ' ')}`;

/** Centroid of the metal of a piece: of a bend the section's second moment moves it outwards (closed form, own arithmetic). */
function centroidOf(piece: Piece, { outerRadius, innerRadius }: NamedTube): Vec3 {
  const middle = pointOnPiece(piece, piece.length / 2);
  if (piece.kind === 'line') return middle;
  const { centre, radius, angle } = piece;
  const spread = (outerRadius ** 2 + innerRadius ** 2) / 4;
  const reach = ((radius ** 2 + spread) / radius) * (Math.sin(angle / 2) / (angle / 2));
  return along(centre, unit(subtract(middle, centre)), reach);
}

function closedForm(tube: NamedTube) {
  const { centreline, outerRadius, innerRadius } = tube;
  const { length } = centreline;
  const rings = 2 * Math.PI * (outerRadius ** 2 - innerRadius ** 2);
  const moments = centreline.pieces.map((piece) => scale(centroidOf(piece, tube), piece.length / length));
  return {
    volume: wallVolume(outerRadius, outerRadius - innerRadius, length),
    area: surfaceArea(outerRadius, length) + surfaceArea(innerRadius, length) + rings,
    centroid: moments.reduce(add),
  };
}

const solidOf = (file: JudgedFile | undefined, i = 0): JudgedSolid => {
  const solid = file?.solids[i];
  if (!solid) throw new Error(`expected a solid, got ${JSON.stringify(file)}`);
  return solid;
};
/** Millimetres as metres. */
const metres = (p: readonly number[] = []): Vec3 => [(p[0] ?? 0) / 1000, (p[1] ?? 0) / 1000, (p[2] ?? 0) / 1000];
const direction = ([x = 0, y = 0, z = 0]: readonly number[] = []): Vec3 => [x, y, z];

describe('geometry, by integrals over the faces', () => {
  const judged = judgedBy(stepSolids);
  let answers: readonly JudgedFile[] | undefined;
  /** Of each tube in a file of its own, then of all in one. */
  const verdict = (i: number): JudgedFile | undefined => {
    answers ??= judgedFiles([...tubes.map((tube) => textOf(tube)), textOf(...tubes)]);
    return answers[i];
  };

  for (const [i, tube] of tubes.entries()) {
    judged(`${tube.name}: nothing is wrong, and it is the tube of the closed forms to 1e-9`, () => {
      const file = verdict(i);
      expect(file).toMatchObject({ faults: [], others: [], metres: [0.001], head: about });
      expect(file?.solids).toHaveLength(1);
      const solid = solidOf(file);
      expect(solid).toMatchObject({ name: tube.name, faults: [], genus: 1, ...countsOf(pieces[i] ?? 0) });
      // Twelve digits of coordinates below 10 m: 5 pm, that is 5e-9 mm.
      expect(Math.max(solid.off.vertices, solid.off.curves)).toBeLessThan(2e-8);
      expect(solid.off.frames).toBeLessThan(5e-12);
      expect(solid.quadrature).toBeLessThan(1e-11);
      const exact = closedForm(tube);
      expect(apart(solid.volume * 1e-9, exact.volume)).toBeLessThan(1e-9);
      expect(apart(solid.area * 1e-6, exact.area)).toBeLessThan(1e-9);
      expect(distance(metres(solid.centroid), exact.centroid)).toBeLessThan(1e-9 * tube.centreline.length);
    });

    judged(`${tube.name}: plane rings look away from it at its ends, walls are of its radii`, () => {
      const { boundary } = solidOf(verdict(i));
      const { startTangent, endTangent, pieces: run } = tube.centreline;
      const [first, last] = [run[0], run.at(-1)];
      if (!first || !last) throw new Error('expected pieces');
      const ends = [
        { at: pointOnPiece(first, 0), outward: scale(startTangent, -1) },
        { at: pointOnPiece(last, last.length), outward: endTangent },
      ];
      const rings = boundary.filter(({ kind }) => kind === 'Plane');
      expect(rings.map(({ loops }) => loops)).toEqual([2, 2]);
      for (const [k, { at, outward }] of ends.entries()) {
        expect(distance(metres(rings[k]?.at), at)).toBeLessThan(1e-11);
        expect(distance(direction(rings[k]?.outward), outward)).toBeLessThan(1e-11);
      }
      const mm = (radius: number): number => Number((radius * 1000).toPrecision(12));
      const radii = [tube.outerRadius, tube.innerRadius].flatMap((radius) =>
        run.map((piece) => (piece.kind === 'arc' ? [mm(piece.radius), mm(radius)] : [mm(radius)])),
      );
      expect(boundary.filter(({ kind }) => kind !== 'Plane').map(({ sizes }) => sizes)).toEqual(radii);
    });
  }

  judged('all in one file are the solids that they are alone', () => {
    const together = verdict(tubes.length);
    expect(together).toMatchObject({ faults: [], others: [] });
    expect(together?.solids).toEqual(tubes.map((_, i) => solidOf(verdict(i))));
  });
});

describe('the runners of a project', () => {
  const judged = judgedBy(stepSolids);
  judged('each is a solid of its name, as long as the record says it is', () => {
    const spec = makeSpec();
    const made = headerStep(spec, about.time);
    if (!made.known) throw new Error(JSON.stringify(made.why));
    const [file] = judgedFiles([made.value]);
    expect(file).toMatchObject({ faults: [], others: [], metres: [0.001] });
    expect(file?.solids.map(({ name }) => name)).toEqual(spec.runners.map(({ id, name = id }) => name));
    const { outsideDiameter = Number.NaN, wall = Number.NaN } = spec.tube;
    for (const [i, runner] of spec.runners.entries()) {
      const length = runnerLength({ spec, measured: nothing, memo: new MemoStore().memo }, runner);
      if (!length.known) throw new Error(JSON.stringify(length.why));
      expect(solidOf(file, i)).toMatchObject({ faults: [], genus: 1 });
      expect(apart(solidOf(file, i).volume * 1e-9, wallVolume(outsideDiameter / 2, wall, length.value))).toBeLessThan(
        1e-9,
      );
    }
  });
});
/** Nothing is measured. */
const nothing = { measure: () => unknown({ reason: 'pending', job: 'none' }) };

/** The text with its nth piece of some kind changed. */
function changed(text: string, what: RegExp, change: (found: string) => string, nth = 0): string {
  const found = Array.from(text.matchAll(new RegExp(what, 'g')))[nth];
  if (!found) throw new Error(`expected ${what} in the text`);
  return text.slice(0, found.index) + change(found[0]) + text.slice(found.index + found[0].length);
}
const turned = (flag: string): string => flag.replace(/\.[TF]\./, (f) => (f === '.T.' ? '.F.' : '.T.'));
/** The last number of a piece of text, changed. */
const lastNumber = (change: (x: number) => number) => (text: string) =>
  text.replace(/-?[\d.]+(?:E-?\d+)?(?=\)+$)/, (x) => change(Number(x)).toFixed(9));

describe('damage is found', () => {
  const judged = judgedBy(stepSolids);
  const sound = textOf(...tubes.slice(1, 2));
  /** By name: the damaged text, and what the judge has to say of it among other things. */
  const damages: readonly (readonly [string, string, RegExp])[] = [
    [
      'a flipped edge, a circle',
      changed(sound, /ORIENTED_EDGE\(.*\)/, turned),
      /used 0 times forwards and 2 times back/,
    ],
    ['a flipped edge, a seam', changed(sound, /ORIENTED_EDGE\(.*\)/, turned, 1), /is not head to tail at 2 places/],
    ['a bound turned', changed(sound, /FACE_OUTER_BOUND\(.*\)/, turned), /run the wrong way round for its normal/],
    ['a hole turned', changed(sound, /FACE_BOUND\(.*\)/, turned), /a hole of face 11 runs the way of its outer loop/],
    [
      'a face that looks the other way',
      changed(sound, /ADVANCED_FACE\(.*\)/, turned),
      /wrong way round for its normal/,
    ],
    [
      'all faces looking inwards',
      sound.replace(/(?:FACE_BOUND|FACE_OUTER_BOUND|ADVANCED_FACE)\(.*\)/g, turned),
      /inside out: its volume is -/,
    ],
    [
      'a circle 1 % off',
      changed(
        sound,
        /CIRCLE\(.*\)/,
        lastNumber((r) => 1.01 * r),
      ),
      /is 0.212 off/,
    ],
    [
      'a cylinder 1 % off',
      changed(
        sound,
        /CYLINDRICAL_SURFACE\(.*\)/,
        lastNumber((r) => 1.01 * r),
      ),
      /is 0.212 off/,
    ],
    [
      'a tube of a torus 1 % off',
      changed(
        sound,
        /TOROIDAL_SURFACE\(.*\)/,
        lastNumber((r) => 1.01 * r),
      ),
      /0.212 off/,
    ],
    ['a bend radius 1 % off', changed(sound, /(?<=TOROIDAL_SURFACE\('',#\d+,)[\d.]+/, () => '60.6'), /is 0.6 off the/],
    [
      'a bend tighter than the tube is wide',
      textOf({ ...thin, name: 'tight', centreline: line(turnOf(90, 0.0211)) }),
      /the torus of face 2 crosses itself: its radii are \[21.1, 21.2\]/,
    ],
    [
      'a vertex moved by 2 um',
      changed(
        sound,
        /CARTESIAN_POINT\(.*\)/,
        lastNumber((z) => z + 0.002),
      ),
      /off its curve/,
    ],
    [
      'a direction not of unit length',
      changed(
        sound,
        /DIRECTION\(.*\)/,
        lastNumber((z) => z + 1e-4),
      ),
      /off unit length/,
    ],
    ['a face left out', changed(sound, /(?<=CLOSED_SHELL\('',\(#\d+),#\d+/, () => ''), /used 1 times forwards and 0/],
    [
      'an edge of two vertices run backwards',
      changed(sound, /EDGE_CURVE\('',(#\d+),(?!\1).*\)/, turned),
      /runs against its curve/,
    ],
    [
      'an instance left out',
      changed(sound, /#\d+=DIRECTION\(.*\);\n/, () => ''),
      /attribute \d is \d+, expected #DIREC/,
    ],
    ['a number twice', changed(sound, /#8=/, () => '#7='), /#7 is not a new number/],
    ['a small letter in a number', sound.replace('1.E-6', '1.e-6'), /no token at/],
    ['a number without a point', changed(sound, /(?<=CIRCLE\('',#\d+,)[\d.]+/, () => '21'), /is 21, expected r/],
    ['a letter that is not plain', sound.replace("'Header'", "'Kopfstück'"), /is not of the basic alphabet/],
    [
      'parts out of order',
      sound.replace('NAMED_UNIT(*) PLANE', 'PLANE').replace('_UNIT() SI', '_UNIT() NAMED_UNIT(*) SI'),
      /order of their names/,
    ],
    ['the end left out', sound.replace('END-ISO-10303-21;', ''), /expected END-ISO-10303-21, got 'end of text'/],
  ];
  let answers: readonly JudgedFile[] | undefined;
  for (const [i, [name, text, words]] of damages.entries()) {
    judged(name, () => {
      answers ??= judgedFiles(damages.map(([, damaged]) => damaged));
      const file = answers[i];
      expect(text).not.toBe(sound);
      expect([...(file?.faults ?? []), ...(file?.solids ?? []).flatMap(({ faults }) => faults)].join('\n')).toMatch(
        words,
      );
    });
  }
});
