import { quantity } from '../field.ts';

const mm = 1e-3;

/** The tools that have to get there. */
export const accessGroups = {
  tools: {
    socket: quantity('length', 'Socket diameter', [5 * mm, 60 * mm], 'Outside, of the widest of socket and extension.'),
    socketLength: quantity(
      'length',
      'Socket length',
      [10 * mm, 0.6],
      'Socket with extension, up to where the hand is.',
    ),
    stickOut: quantity('length', 'Stud stick-out', [0, 0.1], 'Stud end above the outer face of the flange.'),
    cup: quantity('length', 'Torch cup diameter', [5 * mm, 40 * mm], 'Outside, of the gas cup.'),
    cupLength: quantity('length', 'Torch cup length', [5 * mm, 0.15], 'From its mouth to the torch body.'),
    torch: quantity('length', 'Torch body diameter', [8 * mm, 60 * mm], 'Outside, behind the cup.'),
    torchLength: quantity('length', 'Torch body length', [20 * mm, 0.4], 'From the cup to where the torch bends away.'),
    standOff: quantity('length', 'Cup stand-off', [0, 20 * mm], 'Seam to the mouth of the cup.'),
    lean: quantity(
      'angle',
      'Torch lean',
      [0, 80 * (Math.PI / 180)],
      'Farthest from square to the tube; 40 deg is much.',
    ),
  },
} as const;
