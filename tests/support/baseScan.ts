/** Datum points and picked points of ports and a stud of the base spec. */

/** A square of 600 mm, twisted by 0.1 mm: no rigid motion takes a twist away, so 0.1 mm is left at each point. */
const twist = 1e-4;
const corners = [
  [0.3, 0.3],
  [-0.3, 0.3],
  [-0.3, -0.3],
  [0.3, -0.3],
] as const;

function datum(i: number, [x, z]: readonly [number, number]): Record<string, unknown> {
  const path = `datums.d${i + 1}`;
  return {
    [path]: i + 1,
    [`${path}.name`]: `Target ${i + 1}`,
    [`${path}.scanX`]: x,
    [`${path}.scanY`]: 0,
    [`${path}.scanZ`]: z,
    [`${path}.carX`]: x,
    [`${path}.carY`]: i % 2 === 0 ? twist : -twist,
    [`${path}.carZ`]: z,
  };
}

/** Six points around a port of 40 mm, in turn 0.05 mm before and behind its face. */
function port(cylinder: number, x: number): Record<string, unknown> {
  const rows = Array.from({ length: 6 }, (_, i): Record<string, unknown> => {
    const path = `portPoints.p${cylinder}${i + 1}`;
    const turn = (i * Math.PI) / 3;
    return {
      [path]: 10 * cylinder + i,
      [`${path}.name`]: `Port ${cylinder}, point ${i + 1}`,
      [`${path}.cylinder`]: cylinder,
      [`${path}.picked`]: 'rim',
      [`${path}.x`]: x + 0.02 * Math.cos(turn),
      [`${path}.y`]: i % 2 === 0 ? 5e-5 : -5e-5,
      [`${path}.z`]: 0.02 * Math.sin(turn),
    };
  });
  return Object.assign({}, ...rows);
}

/** Eight points on the 8 mm stud in hole S1, in turn 0.05 mm outside and inside, four on each of two heights. */
function stud(): Record<string, unknown> {
  const rows = Array.from({ length: 8 }, (_, i): Record<string, unknown> => {
    const path = `studPoints.s${i + 1}`;
    const turn = (i * Math.PI) / 4;
    const radius = 0.004 + (i % 2 === 0 ? 5e-5 : -5e-5);
    return {
      [path]: i,
      [`${path}.name`]: `Stud S1, point ${i + 1}`,
      [`${path}.stud`]: 'S1',
      [`${path}.x`]: radius * Math.cos(turn),
      [`${path}.y`]: i % 2 === 0 ? 0.012 : 0.03,
      [`${path}.z`]: 0.03 + radius * Math.sin(turn),
    };
  });
  return Object.assign({}, ...rows);
}

/** Entries of the scan gate's rows. */
export const baseScan: Readonly<Record<string, unknown>> = {
  ...Object.assign({}, ...corners.map((corner, i) => datum(i, corner))),
  ...port(1, 0),
  ...port(2, 0.1),
  ...stud(),
};
