import { derive } from '../../units/known.ts';
import { defineFormula } from '../formula.ts';
import { wallBalance } from './wall-balance.ts';

/** Temperature of the outside of a bare tube where what comes in leaves by convection and radiation, K. */
export const bareWallTemperature = defineFormula({
  id: 'bare-wall-temperature',
  title: 'Skin temperature of a bare runner',
  inputs: {
    bore: { quantity: 'length', range: [1e-3, 1], help: 'd' },
    outsideDiameter: { quantity: 'length', range: [1e-3, 1], help: 'D' },
    conductivity: { quantity: 'conductivity', range: [1, 500], help: 'k, of the wall' },
    emissivity: { quantity: 'ratio', range: [0, 1], help: 'e, grey skin' },
    gasTemperature: { quantity: 'temperature', range: [300, 1800], help: 'T_g, bulk' },
    coefficient: { quantity: 'heatTransfer', range: [0.1, 1e4], help: 'h, inside, steady' },
    pulsation: {
      quantity: 'ratio',
      range: [0.5, 5],
      help: 'what pulsation multiplies h by; 1.5 to 3 in runners, uncertain',
      fallback: 1,
    },
    air: { quantity: 'temperature', range: [220, 800], help: 'T_a, still air' },
    walls: { quantity: 'temperature', range: [220, 800], help: 'T_w, of what stands around' },
  },
  output: { quantity: 'temperature', help: 'gain by pulsating convection = loss outside, wall conduction counted' },
  source: { document: 'own balance, solved by bracketing', trust: 'own', note: 'radiation of the gas left out' },
  examples: [
    {
      inputs: {
        bore: 0.0409,
        outsideDiameter: 0.0445,
        conductivity: 20,
        emissivity: 0.85,
        gasTemperature: 1223.15,
        coefficient: 272.00244498777505,
        pulsation: 1.5,
        air: 353.15,
        walls: 353.15,
      },
      expected: 1047,
      tolerance: 0.001,
      source: { document: 'own arithmetic', clause: 'example E-26: gas 950 C, pulsation 1.5', trust: 'own' },
    },
  ],
  compute({ bore, outsideDiameter, conductivity, emissivity, gasTemperature, coefficient, pulsation, air, walls }) {
    const wall = { bore, outsideDiameter, conductivity, emissivity };
    const balance = wallBalance(wall, { temperature: gasTemperature, coefficient, pulsation }, { air, walls });
    return derive({ balance }, (found) => found.balance.outside);
  },
});
