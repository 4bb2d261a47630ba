import { validityTable } from '../../../tests/support/validityTable.ts';
import { species } from '../data/nasa9.ts';
import { exhaustComposition } from './exhaust-composition.ts';
import { speciesHeatCapacity, speciesViscosity } from './gas-mixture.ts';
import { speciesConductivity } from './mixture-conductivity.ts';
import { speciesEnthalpy } from './mixture-enthalpy.ts';

/** The fits of steam start where it exists at an atmosphere; those of the others at 200 K. Source: NASA TM-4647. */
const transport = (of: string): readonly [string, number, number] => ['temperature', of === 'H2O' ? 373.2 : 200, 5000];

for (const gas of species) {
  validityTable({
    name: `heat capacity of ${gas}`,
    call: ({ temperature }) => speciesHeatCapacity(gas, temperature),
    good: { temperature: 800 },
    rows: { temperature: ['temperature', 200, 6000] },
  });
  validityTable({
    name: `enthalpy of ${gas}`,
    call: ({ temperature }) => speciesEnthalpy(gas, temperature),
    good: { temperature: 800 },
    rows: { temperature: ['temperature', 200, 6000] },
  });
  validityTable({
    name: `viscosity of ${gas}`,
    call: ({ temperature }) => speciesViscosity(gas, temperature),
    good: { temperature: 800 },
    rows: { temperature: transport(gas) },
  });
  validityTable({
    name: `conductivity of ${gas}`,
    call: ({ temperature }) => speciesConductivity(gas, temperature),
    good: { temperature: 800 },
    rows: { temperature: transport(gas) },
  });
}

validityTable({
  name: 'exhaust composition',
  call: ({ lambda }) => exhaustComposition(lambda),
  good: { lambda: 0.9 },
  rows: { lambda: ['ratio', 0.7, 3] },
});
