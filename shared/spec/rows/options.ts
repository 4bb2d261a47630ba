/** Alloys whose hot properties the rules know. */
export const alloyOptions = ['625', '321', '304'] as const;
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
