import type { OwnMaterial } from '../spec/spec.ts';
import { interpolate, type Point, tableRange } from '../trade/interpolation.ts';
import { sourceWords } from '../trade/source.ts';
import { larsonMillerParameter } from '../trade/strength/larson-miller-parameter.ts';
import { at, derive, type Ground, type Known, known, unknown } from '../units/known.ts';

/** A property an own material can have: a column of its table by temperature, or its one density. */
export type OwnProperty = 'expansion' | 'modulus' | 'yield' | 'conductivity' | 'density';

/** What an own material is called: its name, or its id while it has none. */
export function ownName(row: OwnMaterial): string {
  return row.name ?? row.id;
}

/** What is said beside whatever used the material; missing until source, trust and reason are stated. */
export function ownGround(row: OwnMaterial): Known<Ground> {
  const path = `materials.${row.id}`;
  return derive(
    {
      document: at(`${path}.source`, row.source),
      trust: at(`${path}.trust`, row.trust),
      reason: at(`${path}.reason`, row.reason),
    },
    ({ reason, ...source }) => ({ path, name: ownName(row), source: sourceWords(source), reason }),
  );
}

/**
 * Property (SI) at a metal temperature (K), interpolated between the rows that give it; density at any temperature. No row gives it:
 * missing. Beyond those rows: outside validity. The same temperature twice: inconsistent.
 */
export function ownMaterialProperty(row: OwnMaterial, property: OwnProperty, temperature: number): Known<number> {
  if (property === 'density') return at<number>(`materials.${row.id}.density`, row.density);
  return derive({ table: columnOf(row, property) }, ({ table }) => {
    const value = interpolate(table, temperature);
    if (value !== null) return value;
    const input = `${property} of ${ownName(row)}: temperature`;
    const [low, high] = tableRange(table);
    return unknown({ reason: 'outOfValidity', input, value: temperature, range: [low, high], unit: 'temperature' });
  });
}

function columnOf(row: OwnMaterial, property: Exclude<OwnProperty, 'density'>): Known<readonly Point[]> {
  const path = `materials.${row.id}.points`;
  const having = row.points.filter((point) => point[property] !== undefined);
  if (having.length === 0) {
    // No row yet: the cell of a first one, so that the words can say what is missing.
    const ids = row.points.length > 0 ? row.points.map((point) => point.id) : ['first'];
    return unknown({ reason: 'missing', paths: ids.map((id) => `${path}.${id}.${property}`) });
  }
  const points = having.map((point) => {
    const cells = {
      temperature: at<number>(`${path}.${point.id}.temperature`, point.temperature),
      value: at<number>(`${path}.${point.id}.${property}`, point[property]),
    };
    return [point.id, derive(cells, (v): Known<Point> => known([v.temperature, v.value]))] as const;
  });
  return derive(Object.fromEntries(points), (v): Known<readonly Point[]> => {
    const sorted = Object.values(v).sort(([a], [b]) => a - b);
    const twice = sorted.find(([x], i) => i > 0 && x === sorted[i - 1]?.[0]);
    if (!twice) return known(sorted);
    const ids = having.filter((point) => point.temperature === twice[0]).map((point) => point.id);
    const detail = `${property} of ${ownName(row)}: expected each temperature once, got one twice`;
    return unknown({ reason: 'inconsistent', detail, paths: ids.map((id) => `${path}.${id}.temperature`) });
  });
}

/**
 * Stress (Pa) that ruptures an own material after `life` (s) at `temperature` (K): straight line of log stress over the Larson-Miller
 * parameter (kelvin, hours, C = 20) between its stated ruptures. Beyond them: outside validity; stress that rises with the parameter:
 * inconsistent; none stated: missing.
 */
export function ownRuptureStress(
  row: OwnMaterial,
  { temperature, life }: { readonly temperature: number; readonly life: number },
): Known<number> {
  const asked = larsonMillerParameter.evaluate({ temperature, life });
  return derive({ asked, table: rupturesOf(row) }, ({ asked: parameter, table }) => {
    const found = interpolate(table, parameter);
    if (found !== null) return Math.exp(found);
    const input = `rupture stress of ${ownName(row)}: Larson-Miller parameter`;
    return unknown({ reason: 'outOfValidity', input, value: parameter, range: tableRange(table), unit: 'ratio' });
  });
}

function rupturesOf(row: OwnMaterial): Known<readonly Point[]> {
  const path = `materials.${row.id}.ruptures`;
  if (row.ruptures.length === 0) return unknown({ reason: 'missing', paths: [`${path}.first.stress`] });
  const points = row.ruptures.map((rupture) => {
    const cell = `${path}.${rupture.id}`;
    const cells = {
      temperature: at<number>(`${cell}.temperature`, rupture.temperature),
      life: at<number>(`${cell}.life`, rupture.life),
      stress: at<number>(`${cell}.stress`, rupture.stress),
    };
    const point = derive(cells, ({ stress, ...hold }) =>
      derive({ x: larsonMillerParameter.evaluate(hold) }, ({ x }): Known<Point> => known([x, Math.log(stress)])),
    );
    return [rupture.id, point] as const;
  });
  return derive(Object.fromEntries(points), (v): Known<readonly Point[]> => {
    const sorted = Object.values(v).sort(([a], [b]) => a - b);
    const falls = sorted.every(
      ([x, y], i) => i === 0 || (x > (sorted[i - 1]?.[0] ?? x) && y < (sorted[i - 1]?.[1] ?? y)),
    );
    if (falls) return known(sorted);
    const detail = `ruptures of ${ownName(row)}: expected less stress at each hotter or longer one, got a rise or the same twice`;
    return unknown({ reason: 'inconsistent', detail, paths: row.ruptures.map(({ id }) => `${path}.${id}.stress`) });
  });
}
