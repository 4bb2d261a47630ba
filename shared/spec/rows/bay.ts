import { choice, quantity, text } from '../field.ts';
import { heatClassOptions } from './options.ts';

const mm = 1e-3;

/** The bay and the scan as a whole. */
export const bayGroups = {
  bay: {
    scanUncertainty: quantity(
      'length',
      'Scan standard uncertainty',
      [0, 5 * mm],
      'Scan, registration and model together, one sigma.',
    ),
  },
} as const;

/** The things in the bay. */
export const bayCollections = {
  components: {
    name: text('Bay component', 60, 'Name of the thing in the scan.'),
    heatClass: choice('Heat class', heatClassOptions, 'What it can stand; sets the clearance limit.'),
    scan: text('Scan file', 64, 'SHA-256 of the uploaded points.'),
    scanUnit: choice('Scan unit', ['mm', 'cm', 'm', 'in'], 'Unit of the numbers in the scan file.'),
  },
} as const;
