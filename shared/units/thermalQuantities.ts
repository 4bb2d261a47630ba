import type { QuantityRow } from './unit.ts';

/** 550 foot pound-force per second. */
const HORSEPOWER = 745.6998715822702;

/** Rows of power, energy, heat and leaks. Horsepower is 550 ft.lbf/s, exact by its definition. */
export const thermalQuantities = {
  power: {
    name: 'power',
    units: [
      { symbol: 'W', factor: 1, decimals: 0, also: ['watt', 'watts'] },
      { symbol: 'kW', factor: 1e3, decimals: 1 },
      { symbol: 'hp', factor: HORSEPOWER, decimals: 1, also: ['bhp', 'horsepower'] },
    ],
    display: 1,
  },
  energy: {
    name: 'energy',
    units: [
      { symbol: 'J', factor: 1, decimals: 2, also: ['joule', 'joules', 'N.m', 'N·m'] },
      { symbol: 'kJ', factor: 1e3, decimals: 3 },
    ],
    display: 0,
  },
  energyDensity: {
    name: 'energy density',
    units: [
      { symbol: 'J/m3', factor: 1, decimals: 0, also: ['J/m³'] },
      { symbol: 'J/mm3', factor: 1e9, decimals: 1, also: ['J/mm³'] },
    ],
    display: 1,
  },
  compliance: {
    name: 'compliance',
    units: [
      { symbol: 'm/N', factor: 1, decimals: 8 },
      { symbol: 'um/kN', factor: 1e-9, decimals: 3 },
    ],
    display: 1,
  },
  conductivity: {
    name: 'thermal conductivity',
    units: [{ symbol: 'W/(m.K)', factor: 1, decimals: 4, also: ['W/m/K', 'W/(m·K)', 'W/mK'] }],
    display: 0,
  },
  heatTransfer: {
    name: 'heat transfer coefficient',
    units: [{ symbol: 'W/(m2.K)', factor: 1, decimals: 1, also: ['W/m2/K', 'W/(m²·K)', 'W/(m2·K)', 'W/m²K', 'W/m2K'] }],
    display: 0,
  },
  heatFlux: {
    name: 'heat flux',
    units: [
      { symbol: 'W/m2', factor: 1, decimals: 0, also: ['W/m²'] },
      { symbol: 'kW/m2', factor: 1e3, decimals: 2, also: ['kW/m²'] },
    ],
    display: 1,
  },
  leakRate: {
    name: 'leak rate',
    units: [
      { symbol: 'Pa.m3/s', factor: 1, decimals: 5, also: ['Pa·m³/s', 'Pa·m3/s', 'Pa m3/s'] },
      { symbol: 'mbar.L/s', factor: 0.1, decimals: 4, also: ['mbar·L/s', 'mbar L/s'] },
    ],
    display: 0,
  },
  specificConsumption: {
    name: 'specific fuel consumption',
    units: [
      { symbol: 'kg/J', factor: 1, decimals: 8 },
      { symbol: 'g/kWh', factor: 1 / 3.6e9, decimals: 0, also: ['g/(kW.h)', 'g/(kW·h)'] },
      {
        symbol: 'lb/(hp.h)',
        factor: 0.45359237 / (HORSEPOWER * 3600),
        decimals: 3,
        also: ['lb/hp/h', 'lb/(hp·h)', 'lb/hph', 'lb/hp.h'],
      },
    ],
    display: 1,
  },
} as const satisfies Record<string, QuantityRow>;
