import { type Known, known, unknown } from '../../units/known.ts';
import { type StartSettings, startSettings, startShare, tungstenCurrents } from '../data/weld-settings.ts';
import { currentRule } from './current-rule.ts';

/** Current for a closed butt of stainless or 625: where to start (A) and the top of the pedal. */
export interface CurrentWindow {
  readonly low: number;
  readonly high: number;
  readonly top: number;
}

/** Current window at `wall` (m, 0.3 to 6 mm). Source: 0.65 to 0.80 of the thumb rule, own from a published thin-sheet table. */
export function currentWindow(wall: number): Known<CurrentWindow> {
  const rule = currentRule.evaluate({ wall });
  if (!rule.known) return rule;
  return known({ low: startShare[0] * rule.value, high: startShare[1] * rule.value, top: rule.value });
}

/** Chart row at `wall` (m, 0.51 to 3.18 mm); the thinner row at a shared edge. Source: welding supplier reference chart (excerpt). */
export function startSettingsAt(wall: number): Known<StartSettings> {
  const row = startSettings.find(({ wall: [low, high] }) => wall >= low && wall <= high);
  if (row) return known(row);
  const range: readonly [number, number] = [startSettings[0]?.wall[0] ?? 0, startSettings.at(-1)?.wall[1] ?? 0];
  return unknown({ reason: 'outOfValidity', input: 'start-settings: wall', value: wall, range, unit: 'length' });
}

/** Thinnest tungsten, m, that carries `current` (A, 5 to 180, electrode negative). Source: {@link tungstenCurrents}. */
export function tungstenFor(current: number): Known<number> {
  const row = tungstenCurrents.find(([, least, greatest]) => current >= least && current <= greatest);
  if (row) return known(row[0]);
  return unknown({
    reason: 'outOfValidity',
    input: 'tungsten: current',
    value: current,
    range: [5, 180],
    unit: 'current',
  });
}
