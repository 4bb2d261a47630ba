import type { Formula } from '../formula.ts';
import { bendArc } from './bend-arc.ts';
import { bendChord } from './bend-chord.ts';
import { bendDifficulty } from './bend-difficulty.ts';
import { bendExtradosFactor } from './bend-extrados-factor.ts';
import { bendIntradosFactor } from './bend-intrados-factor.ts';
import { bendOvality } from './bend-ovality.ts';
import { bendSagitta } from './bend-sagitta.ts';
import { bendSetback } from './bend-setback.ts';
import { bendTightness } from './bend-tightness.ts';
import { bendWallInside } from './bend-wall-inside.ts';
import { bendWallOutside } from './bend-wall-outside.ts';
import { chordAngleForError } from './chord-angle-for-error.ts';
import { kerfAngle } from './kerf-angle.ts';

/** Formulas of the tube folder, sorted by id. */
export const tubeFormulas: readonly Formula[] = [
  bendArc,
  bendChord,
  bendDifficulty,
  bendExtradosFactor,
  bendIntradosFactor,
  bendOvality,
  bendSagitta,
  bendSetback,
  bendTightness,
  bendWallInside,
  bendWallOutside,
  chordAngleForError,
  kerfAngle,
];
