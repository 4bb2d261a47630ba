/** One row a quantity: the single place where SI units, display units and decimals are decided. Labels, parser, forms and help read it. */

import { thermalQuantities } from './thermalQuantities.ts';
import type { QuantityRow, Unit } from './unit.ts';

/** Shapes of the rows. */
export type { QuantityRow, Unit } from './unit.ts';

const INCH = 0.0254;
const PSI = 6894.757293168361;

/** The table. Factors are exact by definition (inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2) or follow from those. */
export const quantities = {
  length: {
    name: 'length',
    units: [
      { symbol: 'm', factor: 1, decimals: 5, also: ['metre', 'meter'] },
      { symbol: 'mm', factor: 1e-3, decimals: 2, also: ['millimetre', 'millimeter'] },
      { symbol: 'cm', factor: 1e-2, decimals: 3 },
      { symbol: 'in', factor: INCH, decimals: 4, also: ['"', 'in.', 'inch', 'inches'] },
      { symbol: 'ft', factor: 0.3048, decimals: 4, also: ["'", 'foot', 'feet'] },
      { symbol: 'thou', factor: INCH / 1000, decimals: 1, also: ['mil'] },
      { symbol: 'um', factor: 1e-6, decimals: 1, also: ['µm', 'μm', 'micron'] },
    ],
    display: 1,
  },
  roughness: {
    name: 'surface roughness',
    units: [
      { symbol: 'm', factor: 1, decimals: 7 },
      { symbol: 'um', factor: 1e-6, decimals: 1, also: ['µm', 'μm', 'micron'] },
      { symbol: 'thou', factor: INCH / 1000, decimals: 2, also: ['mil'] },
    ],
    display: 1,
  },
  angle: {
    name: 'angle',
    units: [
      { symbol: 'rad', factor: 1, decimals: 4 },
      { symbol: 'deg', factor: Math.PI / 180, decimals: 1, also: ['°', 'degree', 'degrees'] },
    ],
    display: 1,
  },
  area: {
    name: 'area',
    units: [
      { symbol: 'm2', factor: 1, decimals: 6, also: ['m²'] },
      { symbol: 'mm2', factor: 1e-6, decimals: 1, also: ['mm²'] },
      { symbol: 'in2', factor: INCH ** 2, decimals: 3, also: ['in²'] },
    ],
    display: 1,
  },
  volume: {
    name: 'volume',
    units: [
      { symbol: 'm3', factor: 1, decimals: 6, also: ['m³'] },
      { symbol: 'L', factor: 1e-3, decimals: 3, also: ['litre', 'liter', 'dm3'] },
      { symbol: 'cm3', factor: 1e-6, decimals: 1, also: ['cc', 'cm³', 'ml'] },
      { symbol: 'in3', factor: INCH ** 3, decimals: 2, also: ['in³', 'cuin', 'cu in', 'ci'] },
    ],
    display: 1,
  },
  mass: {
    name: 'mass',
    units: [
      { symbol: 'kg', factor: 1, decimals: 2 },
      { symbol: 'g', factor: 1e-3, decimals: 0 },
      { symbol: 'lb', factor: 0.45359237, decimals: 2, also: ['lbm', 'lbs'] },
    ],
    display: 0,
  },
  time: {
    name: 'time',
    units: [
      { symbol: 's', factor: 1, decimals: 0, also: ['sec', 'second', 'seconds'] },
      { symbol: 'min', factor: 60, decimals: 1, also: ['minute', 'minutes'] },
      { symbol: 'h', factor: 3600, decimals: 2, also: ['hour', 'hours', 'hr'] },
    ],
    display: 0,
  },
  /** Times of work: of a build, of a service life. */
  duration: {
    name: 'duration',
    units: [
      { symbol: 's', factor: 1, decimals: 0, also: ['sec', 'second', 'seconds'] },
      { symbol: 'min', factor: 60, decimals: 0, also: ['minute', 'minutes'] },
      { symbol: 'h', factor: 3600, decimals: 1, also: ['hour', 'hours', 'hr'] },
    ],
    display: 2,
  },
  rotation: {
    name: 'rotational speed',
    units: [
      { symbol: '1/s', factor: 1, decimals: 2, also: ['rev/s', 'rps'] },
      { symbol: 'rpm', factor: 1 / 60, decimals: 0, also: ['rev/min', 'r/min', '1/min'] },
    ],
    display: 1,
  },
  temperature: {
    name: 'temperature',
    units: [
      { symbol: 'K', factor: 1, decimals: 0, also: ['kelvin'] },
      { symbol: 'C', factor: 1, offset: 273.15, decimals: 0, also: ['°C', 'degC', 'deg C', '℃'] },
      { symbol: 'F', factor: 5 / 9, offset: 459.67 * (5 / 9), decimals: 0, also: ['°F', 'degF', 'deg F', '℉'] },
    ],
    display: 1,
  },
  pressure: {
    name: 'pressure (absolute)',
    units: [
      { symbol: 'Pa', factor: 1, decimals: 0 },
      { symbol: 'kPa', factor: 1e3, decimals: 1 },
      { symbol: 'bar', factor: 1e5, decimals: 3 },
      { symbol: 'psi', factor: PSI, decimals: 1, also: ['lbf/in2'] },
    ],
    display: 1,
  },
  stress: {
    name: 'stress',
    units: [
      { symbol: 'Pa', factor: 1, decimals: 0 },
      { symbol: 'MPa', factor: 1e6, decimals: 1, also: ['N/mm2', 'N/mm²'] },
      { symbol: 'GPa', factor: 1e9, decimals: 2 },
      { symbol: 'ksi', factor: PSI * 1000, decimals: 2 },
    ],
    display: 1,
  },
  force: {
    name: 'force',
    units: [
      { symbol: 'N', factor: 1, decimals: 0 },
      { symbol: 'kN', factor: 1e3, decimals: 2 },
      { symbol: 'lbf', factor: 4.4482216152605, decimals: 0 },
    ],
    display: 1,
  },
  torque: {
    name: 'torque',
    units: [
      { symbol: 'N.m', factor: 1, decimals: 1, also: ['Nm', 'N·m', 'N m'] },
      {
        symbol: 'lbf.ft',
        factor: 1.3558179483314003,
        decimals: 1,
        also: ['lbf ft', 'ft lbf', 'ft.lb', 'ft lb', 'ftlb', 'lb ft', 'lbft', 'ft-lb', 'lb-ft'],
      },
      {
        symbol: 'lbf.in',
        factor: 0.1129848290276167,
        decimals: 0,
        also: ['lbf in', 'in lbf', 'in.lb', 'in lb', 'inlb', 'lb in', 'in-lb', 'lb-in'],
      },
    ],
    display: 0,
  },
  massFlow: {
    name: 'mass flow',
    units: [
      { symbol: 'kg/s', factor: 1, decimals: 4 },
      { symbol: 'g/s', factor: 1e-3, decimals: 1 },
      { symbol: 'lb/min', factor: 0.45359237 / 60, decimals: 2 },
    ],
    display: 1,
  },
  volumeFlow: {
    name: 'volume flow',
    units: [
      { symbol: 'm3/s', factor: 1, decimals: 6, also: ['m³/s'] },
      { symbol: 'L/min', factor: 1e-3 / 60, decimals: 1, also: ['lpm', 'l/m'] },
      { symbol: 'ft3/h', factor: 0.3048 ** 3 / 3600, decimals: 1, also: ['cfh', 'scfh'] },
    ],
    display: 1,
  },
  velocity: {
    name: 'velocity',
    units: [
      { symbol: 'm/s', factor: 1, decimals: 1 },
      { symbol: 'ft/s', factor: 0.3048, decimals: 1 },
      { symbol: 'mm/min', factor: 1e-3 / 60, decimals: 0 },
      { symbol: 'mm/s', factor: 1e-3, decimals: 2 },
      { symbol: 'in/min', factor: INCH / 60, decimals: 1, also: ['ipm'] },
    ],
    display: 0,
  },
  density: { name: 'density', units: [{ symbol: 'kg/m3', factor: 1, decimals: 3, also: ['kg/m³'] }], display: 0 },
  viscosity: {
    name: 'dynamic viscosity',
    units: [{ symbol: 'Pa.s', factor: 1, decimals: 8, also: ['Pa·s', 'Pas'] }],
    display: 0,
  },
  expansion: {
    name: 'thermal expansion coefficient',
    units: [
      { symbol: '1/K', factor: 1, decimals: 8, also: ['/K'] },
      { symbol: 'um/m/K', factor: 1e-6, decimals: 2, also: ['ppm/K', 'e-6/K'] },
    ],
    display: 1,
  },
  frequency: { name: 'frequency', units: [{ symbol: 'Hz', factor: 1, decimals: 1 }], display: 0 },
  current: { name: 'electric current', units: [{ symbol: 'A', factor: 1, decimals: 0 }], display: 0 },
  voltage: { name: 'voltage', units: [{ symbol: 'V', factor: 1, decimals: 1 }], display: 0 },
  heatPerLength: {
    name: 'heat input',
    units: [
      { symbol: 'J/m', factor: 1, decimals: 0 },
      { symbol: 'kJ/mm', factor: 1e6, decimals: 3 },
      { symbol: 'kJ/in', factor: 1000 / INCH, decimals: 2 },
    ],
    display: 1,
  },
  share: {
    name: 'share',
    units: [
      { symbol: '1', factor: 1, decimals: 4, also: ['fraction'] },
      { symbol: '%', factor: 1e-2, decimals: 1, also: ['percent'] },
    ],
    display: 1,
  },
  concentration: {
    name: 'volume concentration',
    units: [
      { symbol: '1', factor: 1, decimals: 6, also: ['fraction'] },
      { symbol: 'ppm', factor: 1e-6, decimals: 0 },
      { symbol: '%', factor: 1e-2, decimals: 2, also: ['percent', 'vol%'] },
    ],
    display: 1,
  },
  specificGasConstant: {
    name: 'specific gas constant',
    units: [
      { symbol: 'J/(kg.K)', factor: 1, decimals: 2, also: ['J/kg/K', 'J/(kg·K)', 'J/kgK'] },
      { symbol: 'kJ/(kg.K)', factor: 1000, decimals: 5, also: ['kJ/kg/K', 'kJ/(kg·K)'] },
    ],
    display: 0,
  },
  sectionModulus: {
    name: 'section modulus',
    units: [
      { symbol: 'm3', factor: 1, decimals: 8, also: ['m³'] },
      { symbol: 'mm3', factor: 1e-9, decimals: 1, also: ['mm³'] },
      { symbol: 'in3', factor: INCH ** 3, decimals: 4, also: ['in³'] },
    ],
    display: 1,
  },
  ...thermalQuantities,
  ratio: { name: 'ratio', units: [{ symbol: '1', factor: 1, decimals: 3 }], display: 0 },
  count: { name: 'count', units: [{ symbol: '1', factor: 1, decimals: 0 }], display: 0 },
} as const satisfies Record<string, QuantityRow>;

/** Key of a row of the quantities table. */
export type QuantityKey = keyof typeof quantities;

/** The row of a quantity, with its literal types widened. */
export function quantityRow(key: QuantityKey): QuantityRow {
  return quantities[key];
}

/** The unit shown by default for a quantity. */
export function displayUnit(key: QuantityKey): Unit {
  const row = quantityRow(key);
  return row.units[row.display] ?? row.units[0];
}

/** Type guard for a key that came from outside. */
export function isQuantityKey(key: string): key is QuantityKey {
  return Object.hasOwn(quantities, key);
}
