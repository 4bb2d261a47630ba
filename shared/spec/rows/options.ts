/** Alloys whose hot properties the rules know. */
export const alloyOptions = ['625', '321', '304'] as const;
/** How far the figures of an own material can be trusted; the tags of every other figure. */
export const trustOptions = ['excerpt', 'memory', 'practice', 'own', 'uncertain'] as const;
/** Threads in the stud table (ISO 724 sizes). */
export const threadOptions = ['M6', 'M8', 'M8x1', 'M10', 'M10x1.25', 'M12', 'M12x1.5'] as const;
/** Property classes and stud materials with a hot yield table. */
export const propertyClassOptions = ['8.8', '10.9', '12.9', 'A2-70', 'A4-80'] as const;
/** What a bay component can stand, coarsely. */
export const heatClassOptions = [
  'bare-metal',
  'oil-backed-cover',
  'structure',
  'steering',
  'brake-line',
  'wiring',
  'hose',
  'painted-panel',
  'composite-panel',
] as const;
/** Gaskets with a seating stress in the gasket table; a lapped face counts as solid metal of its softer side. */
export const gasketOptions = [
  'corrugated-copper',
  'corrugated-stainless',
  'graphite-sheet',
  'grooved-stainless',
  'jacketed-stainless',
  'solid-copper',
  'solid-iron',
  'spiral-wound',
] as const;
/** Base metals of the filler table. */
export const weldMetalOptions = [
  '304L',
  '310',
  '316L',
  '321',
  '347',
  '409',
  '625',
  '718',
  'alloy-x',
  'carbon-steel',
  'ni-cast-iron',
  'ti-2',
  'ti-6al-4v',
] as const;
/** Filler rods by their AWS class; other is a rod the filler table does not hold. */
export const fillerOptions = [
  'ER308L',
  'ER308LSi',
  'ER309L',
  'ER310',
  'ER347',
  'ERNiCr-3',
  'ERNiCrMo-2',
  'ERNiCrMo-3',
  'ERNiFeCr-2',
  'ERTi-1',
  'ERTi-2',
  'ERTi-23',
  'ERTi-5',
  'other',
] as const;
/** Powders with a least self-supporting angle in the printing table. */
export const printAlloyOptions = ['316L', '625', '718', 'AlSi10Mg', 'CoCr', 'Ti-6Al-4V'] as const;
/** How printed pieces come off the plate. */
export const separationOptions = ['wire-erosion', 'band-saw'] as const;
/** When a build is stress relieved. */
export const reliefOptions = ['on-the-plate', 'after-cutting', 'none'] as const;
/** Faces with a stock of their own in the printing table. */
export const machinedFaceOptions = ['sealing-face', 'long-flange', 'supported-face', 'hole'] as const;
