import { defineFormula } from '../formula.ts';

/** Oxygen in a closed room after argon was let out, well mixed and without ventilation. Pockets near the floor are worse. */
export const roomOxygen = defineFormula({
  id: 'room-oxygen',
  title: 'Oxygen in a room after argon release',
  inputs: {
    room: { quantity: 'volume', range: [1, 1e5], help: 'V, air in the room' },
    argon: { quantity: 'volume', range: [0, 1e5], help: 'argon let out at room pressure' },
    start: { quantity: 'concentration', range: [0, 0.25], help: 'oxygen at the start', fallback: 0.209 },
  },
  output: { quantity: 'concentration', help: 'C = C_0 exp(-V_argon / V_room)' },
  source: {
    document: 'well-mixed dilution balance (stirred tank)',
    trust: 'memory',
    note: 'alarm at 19.5 % (29 CFR 1910.146)',
  },
  examples: [
    {
      inputs: { room: 22.5, argon: 0.9, start: 0.209 },
      expected: 0.200805,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-23b', trust: 'own' },
    },
    {
      inputs: { room: 22.5, argon: 10, start: 0.209 },
      expected: 0.134007,
      tolerance: 1e-3,
      source: { document: 'own arithmetic', clause: 'vector WE-23b', trust: 'own' },
    },
  ],
  compute({ room, argon, start }) {
    return start * Math.exp(-argon / room);
  },
});
