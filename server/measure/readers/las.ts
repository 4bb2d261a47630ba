import type { LasHeader } from './las-header.ts';
import { lasHeader } from './las-header.ts';
import { readPackedPoints } from './laz.ts';
import { grouped, refuse } from './problem.ts';
import type { Bounds, Gathered, SinkOptions } from './sink.ts';
import { PointSink } from './sink.ts';
import type { Source } from './source.ts';
import { eachRecord } from './source.ts';

/** What a LAS or LAZ file held. */
export interface LasScan extends Gathered {
  readonly format: 'las' | 'laz';
}

/**
 * Reads the points of a LAS file, versions 1.0 to 1.4, point formats 0 to 10, plain or compressed (LAZ). The format has no field for the
 * unit that writers of part scans fill in, so the unit is the one given.
 */
export function readLas(source: Source, options: SinkOptions): LasScan {
  const header = lasHeader(source, options);
  const take = (sink: PointSink) => taker(header, sink);
  if (header.compressed) {
    const sink = new PointSink(options);
    readPackedPoints(source, header, take(sink));
    const scan = sink.finish('point');
    checkBox(header, scan.bounds, options.unitFactor);
    return { ...scan, format: 'laz' };
  }
  const { offset, stride, count } = header;
  const end = offset + count * stride;
  if (end > source.size) {
    const text = `The header promises ${grouped(count)} points = ${grouped(end)} bytes, the file has ${grouped(source.size)}.`;
    refuse('truncated', `${text} Upload it again, or export it again.`);
  }
  const sink = new PointSink(options, count);
  const put = take(sink);
  eachRecord(source, { offset, stride, count }, (view, records, first) => {
    for (let i = 0; i < records; i++) put(view, i * stride, first + i + 1);
  });
  return { ...sink.finish('point'), format: 'las' };
}

/** Packed points have no sum: damage within shows in that they leave the box that the header gives them. */
function checkBox({ box, scale }: LasHeader, bounds: Bounds, unitFactor: number): void {
  if (!box) return;
  for (let axis = 0; axis < 3; axis++) {
    const slack = 2 * Math.abs(scale[axis] ?? 0);
    const [least, greatest] = [(bounds.least[axis] ?? 0) / unitFactor, (bounds.greatest[axis] ?? 0) / unitFactor];
    const [low, high] = [box.least[axis] ?? 0, box.greatest[axis] ?? 0];
    if (least >= low - slack && greatest <= high + slack) continue;
    const came = `${least} to ${greatest}`;
    refuse(
      'malformed',
      `Expected ${'xyz'[axis]} from ${low} to ${high} as the header says, got ${came}: the packed points are damaged. Export the file again.`,
    );
  }
}

/** Takes the point of one unpacked record. */
export type TakeRecord = (view: DataView, record: number, place: number) => void;

function taker({ scale, shift }: LasHeader, sink: PointSink): TakeRecord {
  return (view, o, place) => {
    const x = view.getInt32(o, true) * scale[0] + shift[0];
    const y = view.getInt32(o + 4, true) * scale[1] + shift[1];
    const z = view.getInt32(o + 8, true) * scale[2] + shift[2];
    sink.add(x, y, z, place);
  };
}
