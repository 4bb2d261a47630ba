import type { Point } from '../interpolation.ts';
import type { Source } from '../source.ts';

/** Sets of rupture points; two for 625 because its sources differ by 10 to 15 %. */
export const ruptureKeys = ['304', '316', '625', '625-handbook'] as const;
/** Key of a row of {@link rupturePoints}. */
export type RuptureKey = (typeof ruptureKeys)[number];

/** Rupture stress against the Larson-Miller parameter (kelvin, hours, C = 20): rows of [parameter, Pa], stress falling. */
export interface RuptureSet {
  readonly points: readonly Point[];
  readonly source: Source;
}

/** A published rupture: degrees C, hours, MPa. */
const at = (celsius: number, hours: number, megapascal: number): Point => [
  (celsius + 273.15) * (20 + Math.log10(hours)),
  megapascal * 1e6,
];
const lives = "nickel alloy maker's comparison of rupture lives";
const note = 'maker Larson-Miller extrapolation; 871 C row printed as 31 MPa and, in error, 4.1 ksi';
const handbookPoint = (parameter: number, megapascal: number): Point => [parameter, megapascal * 1e6];

/** Wrought bar and plate. For printed 625 trust at most 0.8 of the 625 rows (common practice) until a coupon is tested. */
export const rupturePoints: Readonly<Record<RuptureKey, RuptureSet>> = {
  '304': {
    points: [at(538, 1000, 255), at(650, 1000, 117), at(760, 10, 103), at(871, 100, 31), at(982, 72, 14)],
    source: {
      document: `${lives}; 538 and 650 C from a stainless specialty table`,
      trust: 'excerpt',
      note: `${note}. The table's 27.6 MPa at 815 C, 1000 h is left out: whole ksi, and 15 % below the line`,
    },
  },
  '316': {
    points: [at(650, 1000, 165), at(760, 100, 103), at(871, 240, 31), at(982, 130, 14)],
    source: {
      document: `${lives}; 650 C from a stainless specialty table`,
      trust: 'excerpt',
      note: `${note}. The table's 48.3 MPa at 815 C, 1000 h is left out: the line is on the safe side of it`,
    },
  },
  '625': {
    points: [at(760, 19000, 103), at(871, 14000, 31), at(982, 2400, 14)],
    source: { document: lives, trust: 'excerpt', note },
  },
  '625-handbook': {
    points: [handbookPoint(21232, 370), handbookPoint(23762, 160), handbookPoint(26292, 50), handbookPoint(28822, 20)],
    source: {
      document: 'handbook table of nickel alloys, 1000 h rupture at 650, 760, 870 and 980 C',
      trust: 'memory',
      note: 'reaches to shorter lives than the maker set, and lies about 15 % below it between 815 and 900 C, above it beyond',
    },
  },
};
