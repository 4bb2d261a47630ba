import { choice, integer, quantity, text } from '../field.ts';
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
    sits: choice('How it sits', ['fixed', 'closes-over'], 'Closes over: a hood or lid, scanned or placed as shut.'),
    heatClass: choice('Heat class', heatClassOptions, 'What it can stand; sets the clearance limit.'),
    scan: text('Scan file', 64, 'SHA-256 of the uploaded points.'),
    scanUnit: choice('Scan unit', ['mm', 'cm', 'm', 'in'], 'Unit of the numbers in the scan file.'),
    placed: choice(
      'Scan placed',
      ['as-uploaded', 'by-datums'],
      'By datums: moved onto the car by the datum points; else as its file says.',
    ),
    fromX: quantity('length', 'Scan from X', [-100, 100], 'On the car. Left empty, the scan is not cut on this side.'),
    fromY: quantity('length', 'Scan from Y', [-100, 100], 'On the car. Left empty, the scan is not cut on this side.'),
    fromZ: quantity('length', 'Scan from Z', [-100, 100], 'On the car. Left empty, the scan is not cut on this side.'),
    toX: quantity('length', 'Scan to X', [-100, 100], 'On the car. Left empty, the scan is not cut on this side.'),
    toY: quantity('length', 'Scan to Y', [-100, 100], 'On the car. Left empty, the scan is not cut on this side.'),
    toZ: quantity('length', 'Scan to Z', [-100, 100], 'On the car. Left empty, the scan is not cut on this side.'),
  },
  datums: {
    name: text('Datum point', 40, 'A target or a corner that is found in the scan and on the car.'),
    scanX: quantity('length', 'In the scan, X', [-100, 100], 'Where the scan has it.'),
    scanY: quantity('length', 'In the scan, Y', [-100, 100], 'Where the scan has it.'),
    scanZ: quantity('length', 'In the scan, Z', [-100, 100], 'Where the scan has it.'),
    carX: quantity('length', 'On the car, X', [-5, 5], 'Measured on the car: along the flange.'),
    carY: quantity('length', 'On the car, Y', [-5, 5], 'Measured on the car: away from the head face.'),
    carZ: quantity('length', 'On the car, Z', [-5, 5], 'Measured on the car: up.'),
  },
  portPoints: {
    name: text('Port point', 40, 'A place picked on a port in the scan.'),
    cylinder: integer('Port of cylinder', [1, 16], 'Cylinder whose port it is on.'),
    picked: choice('Picked on', ['rim', 'face'], 'Rim: the edge of a round port. Face: the flange face around it.'),
    x: quantity('length', 'Picked X', [-3, 3], 'Along the flange.'),
    y: quantity('length', 'Picked Y', [-3, 3], 'Away from the head face.'),
    z: quantity('length', 'Picked Z', [-3, 3], 'Up.'),
  },
  studPoints: {
    name: text('Stud point', 40, 'A place picked on the side of a stud in the scan.'),
    stud: text('On the stud in hole', 40, 'Name of the stud hole it goes through.'),
    x: quantity('length', 'Picked X', [-3, 3], 'Along the flange.'),
    y: quantity('length', 'Picked Y', [-3, 3], 'Away from the head face.'),
    z: quantity('length', 'Picked Z', [-3, 3], 'Up.'),
  },
} as const;
