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
import { bundleDiameter } from './bundle-diameter.ts';
import { chordAngleForError } from './chord-angle-for-error.ts';
import { kerfAngle } from './kerf-angle.ts';
import { mergeLength } from './merge-length.ts';
import { wedgeInnerLength } from './wedge-inner-length.ts';
import { wedgeOuterLength } from './wedge-outer-length.ts';

/** Formulas of the tube folder, sorted by id. */
export const tubeFormulas: readonly Formula[] = [
  wedgeInnerLength,
  wedgeOuterLength,
  bundleDiameter,
  mergeLength,
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
