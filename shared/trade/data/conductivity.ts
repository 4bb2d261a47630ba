import type { Species } from './nasa9.ts';
import type { ViscosityFit } from './viscosity.ts';

/**
 * Conductivity fits by species, lower range first, of the same form as the viscosity: ln(k in uW/(cm.K)); 1 uW/(cm.K) = 1e-4 W/(m.K).
 * CO has the fit of N2. Source: NASA TM-4647, as distributed in the NASA CEA data file trans.inp (excerpt); the H2O fit starts at
 * 373.2 K, which sets the lower end for every wet exhaust.
 */
export const conductivityFits: Readonly<Record<Species, readonly [ViscosityFit, ViscosityFit]>> = {
  CO2: [
    { range: [200, 1000], coefficients: [0.48056568, -507.8672, 35088.811, 3.6747794] },
    { range: [1000, 5000], coefficients: [0.69857277, -118.30477, -50688.859, 1.8650551] },
  ],
  CO: [
    { range: [200, 1000], coefficients: [0.85439436, 105.73224, -12347.848, 0.47793128] },
    { range: [1000, 5000], coefficients: [0.88407146, 133.57293, -11429.64, 0.24417019] },
  ],
  H2O: [
    { range: [373.2, 1073.2], coefficients: [1.0966389, -555.13429, 106234.08, -0.2466455] },
    { range: [1073.2, 5000], coefficients: [0.39367933, -2252.4226, 612174.58, 5.8011317] },
  ],
  H2: [
    { range: [200, 1000], coefficients: [1.0059461, 279.51262, -29792.018, 1.1996252] },
    { range: [1000, 5000], coefficients: [1.058245, 248.75372, 11736.907, 0.82758695] },
  ],
  O2: [
    { range: [200, 1000], coefficients: [0.77229167, 6.846321, -5893.3377, 1.2210365] },
    { range: [1000, 5000], coefficients: [0.90917351, 291.24182, -79650.171, 0.064851631] },
  ],
  N2: [
    { range: [200, 1000], coefficients: [0.85439436, 105.73224, -12347.848, 0.47793128] },
    { range: [1000, 5000], coefficients: [0.88407146, 133.57293, -11429.64, 0.24417019] },
  ],
};
