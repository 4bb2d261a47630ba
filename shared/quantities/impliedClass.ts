import { type HeatClassKey, heatClasses } from '../trade/data/heat-classes.ts';

/**
 * What the words of a component's name say that it is. English only: a name in another language says nothing. Source: own, the usual words
 * of the trade.
 */
const words: readonly (readonly [RegExp, HeatClassKey])[] = [
  [/\b(brake|fuel)\b/, 'brake-line'],
  [/\b(carbon|composite|fibreglass|fiberglass)\b/, 'composite-panel'],
  [/\b(hood|bonnet|fender|wing|panel)s?\b/, 'painted-panel'],
  [/\b(hose|boot|bellows|belt)s?\b/, 'hose'],
  [/\b(wire|wires|wiring|loom|harness|cable|cables|connector|sensor)\b/, 'wiring'],
  [/\b(steering)\b/, 'steering'],
  [/\b(rail|frame|subframe|chassis|crossmember)s?\b/, 'structure'],
];

/** The class with the widest clearance that a name implies; null when it implies none. */
export function impliedClass(name: string): HeatClassKey | null {
  const found = words.filter(([word]) => word.test(name.toLowerCase())).map(([, key]) => key);
  return found.reduce<HeatClassKey | null>(
    (widest, key) => (widest === null || heatClasses[key].clearance > heatClasses[widest].clearance ? key : widest),
    null,
  );
}
