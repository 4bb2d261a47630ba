import { choice, plainNumber, quantity, text } from '../field.ts';
import { trustOptions } from './options.ts';

/** What a job brings itself: limits set for it, and metals with their own figures. Whoever uses one says so. */
export const ownCollections = {
  /** The id of a row is the id of the rule whose limit it sets; the numbers are SI of that rule's quantity. */
  limits: {
    least: plainNumber('Least allowed in this job', 'In SI of what the rule measures; for a rule with a lower limit.'),
    most: plainNumber('Most allowed in this job', 'In SI of what the rule measures; for a rule with an upper limit.'),
    reason: text('Reason for the limit', 200, 'Why this job has a limit of its own. Shown beside every verdict.'),
  },
  materials: {
    name: text('Own material', 40, 'Shown on screens and sheets.'),
    source: text('Source of the figures', 200, 'Document, test report or certificate, with its number.'),
    trust: choice('Trust in the figures', trustOptions, 'How far the figures can be relied on.'),
    reason: text('Reason for the material', 200, 'Why the listed ones do not do. Shown beside every verdict.'),
    density: quantity('density', 'Density of the material', [500, 2e4], 'Of solid metal; taken at any temperature.'),
    serviceLimit: quantity(
      'temperature',
      'Service limit of the material',
      [293, 1973],
      'Above it the metal scales away; oxidation, not strength.',
    ),
  },
} as const;

/** One temperature of an own material. A cell may be empty: each property is a table of the rows that have it, never carried beyond them. */
export const materialPointFields = {
  temperature: quantity('temperature', 'Metal temperature', [73, 1973], 'At which the figures of this row hold.'),
  expansion: quantity('expansion', 'Mean expansion', [1e-7, 5e-5], 'Mean coefficient from 20 C to this temperature.'),
  modulus: quantity('stress', 'Modulus of elasticity', [1e8, 1e12], 'At this temperature.'),
  yield: quantity('stress', 'Yield strength', [1e5, 5e9], 'Rp0.2 at this temperature; a minimum where there is one.'),
  conductivity: quantity('conductivity', 'Thermal conductivity', [0.1, 500], 'At this temperature.'),
} as const;

/** One published rupture of an own material. */
export const materialRuptureFields = {
  temperature: quantity('temperature', 'Rupture temperature', [473.15, 1473.15], 'Of the test.'),
  life: quantity('time', 'Time to rupture', [360, 3.6e8], 'Under the stress of this row.'),
  stress: quantity('stress', 'Rupture stress', [1e5, 2e9], 'Steady, of the test.'),
} as const;
