/** Gates in the order the work meets them. A gate is a step the work may not pass unsigned. */
export const gateIds = [
  'scan',
  'design',
  'mock-up',
  'print-release',
  'cut-release',
  'as-printed',
  'fit-up',
  'weld',
  'install',
] as const;

/** Id of a gate. */
export type GateId = (typeof gateIds)[number];

/** Type guard for a gate id from outside. */
export function isGateId(id: string): id is GateId {
  return gateIds.some((g) => g === id);
}
