import { validityTable } from '../../../tests/support/validityTable.ts';
import { species } from '../data/nasa9.ts';
import { exhaustComposition } from './exhaust-composition.ts';
import { speciesHeatCapacity, speciesViscosity } from './gas-mixture.ts';
import { speciesConductivity } from './mixture-conductivity.ts';
import { speciesEnthalpy } from './mixture-enthalpy.ts';

/** The fits of steam start where it exists at an atmosphere; those of the others at 200 K. Source: NASA TM-4647. */
const transport = (of: string): readonly [string, number, number] => ['temperature', of === 'H2O' ? 373.2 : 200, 5000];

for (const of of species) {
  validityTable({
    name: `heat capacity of ${of}`,
    call: ({ temperature }) => speciesHeatCapacity(of, temperature),
    good: { temperature: 800 },
    rows: { temperature: ['temperature', 200, 6000] },
  });
  validityTable({
    name: `enthalpy of ${of}`,
    call: ({ temperature }) => speciesEnthalpy(of, temperature),
    good: { temperature: 800 },
    rows: { temperature: ['temperature', 200, 6000] },
  });
  validityTable({
    name: `viscosity of ${of}`,
    call: ({ temperature }) => speciesViscosity(of, temperature),
    good: { temperature: 800 },
    rows: { temperature: transport(of) },
  });
  validityTable({
    name: `conductivity of ${of}`,
    call: ({ temperature }) => speciesConductivity(of, temperature),
    good: { temperature: 800 },
    rows: { temperature: transport(of) },
  });
}

validityTable({
  name: 'exhaust composition',
  call: ({ lambda }) => exhaustComposition(lambda),
  good: { lambda: 0.9 },
  rows: { lambda: ['ratio', 0.7, 3] },
});
