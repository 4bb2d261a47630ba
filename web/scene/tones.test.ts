import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { toneNames, toneOf } from './tones.ts';

type Three = readonly [number, number, number];
const css = readFileSync(new URL('../style/base.css', import.meta.url), 'utf8');
const [day, bay] = [css.indexOf(':root {'), css.indexOf(':root[data-theme="bay"]')];
const themes = { Day: css.slice(day, bay), Bay: css.slice(bay, css.indexOf('}', bay)) };

/** A custom property's colour as linear red, green and blue. */
function colour(theme: string, name: string): Three {
  const hex = new RegExp(`--${name}: #([0-9a-f]{6});`).exec(theme)?.[1] ?? '';
  const [r = Number.NaN, g = Number.NaN, b = Number.NaN] = [0, 2, 4].map((at) => {
    const c = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  });
  return [r, g, b];
}

const row = ([a, b, c]: Three, [x, y, z]: Three): number => a * x + b * y + c * z;
const through = ([r, g, b]: readonly [Three, Three, Three], v: Three): Three => [row(r, v), row(g, v), row(b, v)];

/** What eyes without one kind of cone see, linear. Source: Machado, Oliveira and Fernandes 2009, severity 1 (memory). */
const eyes: readonly (readonly [Three, Three, Three])[] = [
  [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
];

/** OKLab. Source: B. Ottosson 2020 (memory). */
function lab(linear: Three): Three {
  const cones = through(
    [
      [0.4122214708, 0.5363325363, 0.0514459929],
      [0.2119034982, 0.6806995451, 0.1073969566],
      [0.0883024619, 0.2817188376, 0.6299787005],
    ],
    linear,
  );
  const [l, m, s] = cones.map(Math.cbrt);
  return through(
    [
      [0.2104542553, 0.793617785, -0.0040720468],
      [1.9779984951, -2.428592205, 0.4505937099],
      [0.0259040371, 0.7827717662, -0.808675766],
    ],
    [l ?? 0, m ?? 0, s ?? 0],
  );
}

const clamped = ([r, g, b]: Three): Three => [clamp(r), clamp(g), clamp(b)];
const clamp = (x: number): number => Math.min(1, Math.max(0, x));
/** How far apart two colours are to the eyes that part them least. */
const apart = (a: Three, b: Three): number =>
  Math.min(
    ...eyes.map((eye) => {
      const [p, q] = [a, b].map((one) => lab(clamped(through(eye, one))));
      return p && q ? Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]) : 0;
    }),
  );
const bright = (c: Three): number => row([0.2126, 0.7152, 0.0722], c);

it('gives each of the first twelve components a colour of its own', () => {
  expect(new Set(toneNames.map((_, i) => toneOf(i))).size).toBe(12);
  expect(toneOf(12)).toBe(0);
});

it.each(Object.entries(themes))('keeps them apart for colour-blind eyes too, and off the ground: %s', (_, theme) => {
  const tones = toneNames.map((name) => colour(theme, name));
  for (const [i, a] of tones.entries())
    for (const [j, b] of tones.entries())
      if (j < i) expect(apart(a, b), `${toneNames[i]} and ${toneNames[j]}`).toBeGreaterThan(0.075);
  const ground = bright(colour(theme, 'scene-ground'));
  for (const [i, tone] of tones.entries()) {
    const [dark, light] = [bright(tone), ground].sort((a, b) => a - b);
    expect(((light ?? 0) + 0.05) / ((dark ?? 0) + 0.05), toneNames[i]).toBeGreaterThan(2.99);
  }
});

it('has a square of each colour for the list beside the scene', () => {
  const list = readFileSync(new URL('../style/job.css', import.meta.url), 'utf8');
  for (const [i, name] of toneNames.entries())
    expect(list).toMatch(new RegExp(`\\.tone-${i + 1} \\{\\s*background: var\\(--${name}\\);`));
});
