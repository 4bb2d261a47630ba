const mm = 1e-3;

/** Tools of the demo's shop. Invented. */
export const accessFields: Readonly<Record<string, unknown>> = {
  'tools.socket': 18 * mm,
  'tools.socketLength': 100 * mm,
  'tools.stickOut': 20 * mm,
  'tools.cup': 12 * mm,
  'tools.cupLength': 30 * mm,
  'tools.torch': 21 * mm,
  'tools.torchLength': 100 * mm,
  'tools.standOff': 3 * mm,
  'tools.lean': { si: (50 * Math.PI) / 180, as: '50 deg' },
};

/** At the collector's face, and the turn each comes in: from the middle outwards. */
const places: readonly (readonly [along: number, turn: number])[] = [
  [0.5638, 4],
  [0.513, 2],
  [0.5671, 1],
  [0.5062, 3],
  [0.5638, 5],
];

/** Where the joint of a cylinder lies on its runner, and its number in the order of welding. */
export function jointPlace(cylinder: number): Readonly<Record<string, unknown>> {
  const [along, turn] = places[cylinder - 1] ?? [0, 0];
  return { cylinder, along, turn };
}

/** How a component of the bay sits. */
export const sitsOf = (component: string): string => (component === 'hood' ? 'closes-over' : 'fixed');
