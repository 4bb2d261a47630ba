/** Bend radius of the worked primary, metres. */
const radius = 0.06675;
/** Straights around its bends, metres: 600 mm altogether. */
const straight = 0.15;

/**
 * Entries for the worked example E-01, E-02, E-03 and E-19: 2.0 L four-cylinder at 7000 rev/min and 250 kPa, lambda 0.80, exhaust at
 * 950 C and 300 kPa, runner 1 of bore 40.9 mm with 600 mm of straights and bends of 90, 45 and 30 degrees.
 */
export function workedPrimary(): Record<string, unknown> {
  return {
    'engine.cylinders': 4,
    'engine.firingOrder': '1-3-4-2',
    'engine.displacement': 2e-3,
    'engine.peakSpeed': 7000 / 60,
    'engine.volumetricEfficiency': 1,
    'engine.manifoldPressure': 250e3,
    'engine.manifoldTemperature': 320,
    'engine.lambda': 0.8,
    'engine.stoichiometricAirFuel': 14.7,
    'engine.exhaustTemperature': 1223.15,
    'engine.exhaustPressure': 300e3,
    'tube.outsideDiameter': 0.0441,
    'tube.wall': 0.0016,
    'tube.roughness': 1.5e-6,
    ...planarNodes([90, 45, 30]),
  };
}

/** Nodes of runner 1 in the y-z plane: equal straights, each corner turning further the same way. */
function planarNodes(turns: readonly number[]): Record<string, unknown> {
  const setbacks = [0, ...turns.map((turn) => radius * Math.tan((turn * Math.PI) / 360)), 0];
  const out: Record<string, unknown> = {};
  let [y, z, heading] = [0, 0, 0];
  for (let i = 0; i < setbacks.length; i++) {
    const path = `runners.r1.nodes.n${i + 1}`;
    out[path] = i + 1;
    out[`${path}.x`] = 0;
    out[`${path}.y`] = y;
    out[`${path}.z`] = z;
    if (i > 0 && i <= turns.length) out[`${path}.radius`] = radius;
    heading += ((turns[i - 1] ?? 0) * Math.PI) / 180;
    const leg = straight + (setbacks[i] ?? 0) + (setbacks[i + 1] ?? 0);
    y += leg * Math.cos(heading);
    z += leg * Math.sin(heading);
  }
  return out;
}
