import { Color } from 'three';
import { toneNames } from './tones.ts';

/** Scene colours, read from the theme's custom properties so that screen and scene agree. */
export interface Palette {
  /** Differs when any colour does. */
  readonly name: string;
  readonly ground: Color;
  readonly ink: Color;
  readonly metal: Color;
  readonly edge: Color;
  readonly scan: readonly Color[];
  readonly fail: Color;
  readonly close: Color;
  readonly action: Color;
}

/** Reads the palette of the present theme. */
export function readPalette(): Palette {
  const style = getComputedStyle(document.documentElement);
  const colour = (name: string): Color => new Color(style.getPropertyValue(name).trim() || '#888888');
  const colours = {
    ground: colour('--scene-ground'),
    ink: colour('--ink'),
    metal: colour('--scene-metal'),
    edge: colour('--scene-edge'),
    scan: toneNames.map((name) => colour(`--${name}`)),
    fail: colour('--fail'),
    close: colour('--close'),
    action: colour('--action'),
  };
  const name = Object.values(colours)
    .flat()
    .map((c) => c.getHexString())
    .join(' ');
  return { ...colours, name };
}
