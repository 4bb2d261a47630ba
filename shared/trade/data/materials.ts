import type { AlloyProperty, PropertyTable } from './alloys.ts';
import { stainlessTables } from './stainless-tables.ts';
import { structuralTables } from './structural-tables.ts';
import { superalloyTables } from './superalloy-tables.ts';

/** Metals a header, flange, stud, bracket or cylinder head can be made of. */
export const materialKeys = [
  '304',
  '304L',
  '316L',
  '321',
  '347',
  '625',
  '718',
  'A286',
  'A356',
  'Ti-2',
  'Ti-6Al-4V',
  'mild-steel',
] as const;
/** Key of a row of {@link materials}. */
export type MaterialKey = (typeof materialKeys)[number];

/** Property of a material as a function of metal temperature; SI unit in brackets. */
export type MaterialProperty =
  | AlloyProperty
  /** Ultimate tensile strength, short time [Pa]. */
  | 'tensile'
  /** Thermal conductivity [W/(m.K)]. */
  | 'conductivity'
  /** Specific heat capacity [J/(kg.K)]. */
  | 'heatCapacity'
  /** Poisson ratio [1]. */
  | 'poisson';

/** Tables of one material; a property nobody gave figures for is not there. */
export type MaterialTables = Readonly<Partial<Record<MaterialProperty, PropertyTable>>>;

/** Tables by material: the complete header alloys with what else is known of them, and the metals around them. */
export const materials: Readonly<Record<MaterialKey, MaterialTables>> = {
  ...stainlessTables,
  ...superalloyTables,
  ...structuralTables,
};
