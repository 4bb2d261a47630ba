import { validityTable } from '../../../tests/support/validityTable.ts';
import { surfaceKeys } from '../data/roughness.ts';
import { relativeRoughness } from './bore-roughness.ts';

for (const surface of surfaceKeys)
  validityTable({
    name: 'relative roughness',
    call: ({ bore }) => relativeRoughness(surface, bore),
    good: { bore: 0.2 },
    rows: { bore: ['length', 5e-3, 0.5] },
  });
