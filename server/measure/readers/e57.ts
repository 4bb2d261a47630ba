import { type E57Field, e57Field, FieldStream } from './e57-fields.ts';
import { type E57Pages, e57Pages } from './e57-pages.ts';
import { type E57Pose, poseOf } from './e57-pose.ts';
import { child, readXml, type XmlElement } from './e57-xml.ts';
import { grouped, refuse } from './problem.ts';
import type { Gathered, SinkOptions } from './sink.ts';
import { PointSink, refuseTooMany } from './sink.ts';
import type { Source } from './source.ts';

/** What an E57 file held: all its scans as one, each in the place its pose gives it. */
export interface E57Scan extends Gathered {
  readonly format: 'e57';
}

/** Longest XML part, bytes (own: descriptions of hundreds of scans with their pictures). */
const MOST_XML = 1 << 25;
/** Most values of one member that may wait for those of another (own: writers put some thousand of each into a packet). */
const MOST_WAITING = 4_000_000;

interface Scan {
  readonly at: number;
  readonly count: number;
  readonly fields: readonly E57Field[];
  readonly pose: E57Pose;
}

/** Reads the points of an E57 file. Lengths are metres by the standard (ASTM E2807): the unit a person gave is not asked. */
export function readE57(source: Source, { maxPoints }: SinkOptions): E57Scan {
  const pages = e57Pages(source);
  const scans = scansIn(pages).filter((scan) => scan.count > 0);
  const count = scans.reduce((sum, scan) => sum + scan.count, 0);
  if (count === 0) refuse('empty', 'Expected points, the E57 file has no scan with any.');
  if (count > maxPoints) refuseTooMany(maxPoints, count);
  const sink = new PointSink({ unitFactor: 1, maxPoints });
  let place = 0;
  for (const scan of scans) place = readScanOf(pages, scan, { sink, place });
  if (sink.size + sink.extent.unplaced === 0)
    refuse('empty', `Expected valid points, all ${grouped(count)} of the E57 file are marked invalid.`);
  return { ...sink.finish('point'), format: 'e57' };
}

function scansIn(pages: E57Pages): readonly Scan[] {
  if (pages.xmlLength > MOST_XML)
    refuse(
      'unsupported',
      `Expected at most ${grouped(MOST_XML)} bytes of XML in an E57 file, it says ${grouped(pages.xmlLength)}.`,
    );
  const xml = Buffer.alloc(Math.min(pages.xmlLength, pages.length));
  pages.read(xml, pages.xmlAt);
  const root = readXml(xml.toString('utf8'));
  const list = child(root, 'data3D');
  if (!list) return refuse('no-coordinates', 'Expected scans ("data3D") in the E57 file, found none.');
  return list.children.flatMap((one) => scanOf(pages, one));
}

function scanOf(pages: E57Pages, element: XmlElement): readonly Scan[] {
  const points = child(element, 'points');
  if (!points) return [];
  const [at, count] = ['fileOffset', 'recordCount'].map((name) => wholeNumber(points, name));
  if (at === undefined || count === undefined) return [];
  const fields = (child(points, 'prototype')?.children ?? []).map(e57Field);
  const bits = fields.reduce((sum, field) => sum + field.bits, 0);
  // A record without a bit would take nothing from the file: millions of the same point out of one line.
  if (count > 1 && (bits === 0 || (bits * count) / 8 > pages.length)) {
    refuse(
      'truncated',
      `The E57 file promises ${grouped(count)} records of ${bits} bits, it has ${grouped(pages.length)} bytes. Export it again.`,
    );
  }
  return [{ at, count, fields, pose: poseOf(child(element, 'pose')) }];
}

function wholeNumber(element: XmlElement, name: string): number {
  const text = element.attributes.get(name) ?? '';
  if (!/^\d{1,15}$/.test(text))
    refuse('bad-header', `Expected a whole number as "${name}" of the points, got "${text.slice(0, 40)}".`);
  return Number(text);
}

const CARTESIAN = ['cartesianX', 'cartesianY', 'cartesianZ'];
const SPHERICAL = ['sphericalRange', 'sphericalAzimuth', 'sphericalElevation'];

interface Streams {
  /** One a field; null for a field that is not needed. */
  readonly all: readonly (FieldStream | null)[];
  readonly place: readonly [FieldStream, FieldStream, FieldStream];
  readonly spherical: boolean;
  /** Other than 0 for a point that is none. */
  readonly state: FieldStream | null;
}

function streamsOf(fields: readonly E57Field[]): Streams {
  const has = (names: readonly string[]): boolean => names.every((name) => fields.some((field) => field.name === name));
  const spherical = !has(CARTESIAN);
  const names = spherical ? SPHERICAL : CARTESIAN;
  if (!has(names)) {
    const found = fields
      .map((field) => field.name)
      .join(', ')
      .slice(0, 200);
    refuse(
      'no-coordinates',
      `Expected ${CARTESIAN.join(', ')} or ${SPHERICAL.join(', ')} in E57 records, got ${found || 'none'}.`,
    );
  }
  const invalid = spherical ? 'sphericalInvalidState' : 'cartesianInvalidState';
  const all = fields.map(({ name }, i) => {
    const field = fields[i];
    return field && (names.includes(name) || name === invalid) ? new FieldStream(field) : null;
  });
  const named = (name: string): FieldStream | undefined => all.find((one) => one?.field.name === name) ?? undefined;
  const [x, y, z] = names.map(named);
  if (!x || !y || !z) return refuse('no-coordinates', 'Expected three coordinates in E57 records.');
  return { all, place: [x, y, z], spherical, state: named(invalid) ?? null };
}

/** Reads the packets of one scan into the sink; gives the number of the last record, counted over all scans. */
function readScanOf(pages: E57Pages, scan: Scan, into: { readonly sink: PointSink; readonly place: number }): number {
  const section = Buffer.alloc(32);
  const start = pages.logical(scan.at);
  pages.read(section, start);
  if (section[0] !== 1)
    refuse('bad-header', `Expected a section of points at byte ${grouped(scan.at)} of the E57 file, found another.`);
  const length = Number(section.readBigUInt64LE(8));
  const end = Math.min(pages.length, start + length);
  const streams = streamsOf(scan.fields);
  let done = 0;
  let at = pages.logical(Number(section.readBigUInt64LE(16)));
  const ready = (): number =>
    Math.min(scan.count - done, ...streams.all.map((one) => one?.waiting ?? Number.POSITIVE_INFINITY));
  for (;;) {
    const some = ready();
    emit(streams, some, { ...into, pose: scan.pose, first: into.place + done });
    done += some;
    if (done >= scan.count) return into.place + done;
    if (at + 4 > end)
      refuse(
        'truncated',
        `Expected ${grouped(scan.count)} points in a scan of the E57 file, it ended after ${grouped(done)}.`,
      );
    at += takePacket(pages, at, { streams, count: scan.count });
  }
}

/** Puts the values of one packet into their streams; gives the length of the packet. */
function takePacket(
  pages: E57Pages,
  at: number,
  { streams, count }: { readonly streams: Streams; readonly count: number },
): number {
  const head = Buffer.alloc(4);
  pages.read(head, at);
  const length = head.readUInt16LE(2) + 1;
  // 0 is an index, 2 is filling: neither holds points.
  if (head[0] === 0 || head[0] === 2) return Math.max(4, length);
  if (head[0] !== 1) refuse('malformed', `Expected a packet of points in the E57 file, got one of type ${head[0]}.`);
  const packet = Buffer.alloc(length);
  pages.read(packet, at);
  const parts = length >= 6 ? packet.readUInt16LE(4) : 0;
  let from = 6 + 2 * parts;
  if (parts !== streams.all.length || from > length)
    refuse('malformed', `Expected ${streams.all.length} streams in a packet of the E57 file, got ${parts}.`);
  for (const [i, stream] of streams.all.entries()) {
    const bytes = packet.readUInt16LE(6 + 2 * i);
    if (from + bytes > length) refuse('malformed', 'Expected the streams of an E57 packet within it, one goes beyond.');
    stream?.push(packet.subarray(from, from + bytes), count);
    if (stream && stream.waiting > MOST_WAITING && Number.isFinite(stream.waiting))
      refuse(
        'unsupported',
        `Expected the members of E57 records side by side, "${stream.field.name}" is ${grouped(MOST_WAITING)} ahead.`,
      );
    from += bytes;
  }
  return length;
}

interface Emitting {
  readonly sink: PointSink;
  readonly pose: E57Pose;
  /** Number of records before, over all scans. */
  readonly first: number;
}

function emit({ all, place: [a, b, c], spherical, state }: Streams, n: number, { sink, pose, first }: Emitting): void {
  for (let i = 0; i < n; i++) {
    if (state && state.at(i) !== 0) {
      sink.leaveOut();
      continue;
    }
    let [x, y, z] = [a.at(i), b.at(i), c.at(i)];
    if (!(Number.isFinite(x) && Number.isFinite(y) && Number.isFinite(z))) {
      // As it came: turned about, an infinite one would read NaN.
      sink.add(x, y, z, first + i + 1);
      continue;
    }
    if (spherical) {
      const [range, azimuth, elevation] = [x, y, z];
      x = range * Math.cos(elevation) * Math.cos(azimuth);
      y = range * Math.cos(elevation) * Math.sin(azimuth);
      z = range * Math.sin(elevation);
    }
    const [r, t] = [pose.rotation, pose.translation];
    sink.add(
      r[0] * x + r[1] * y + r[2] * z + t[0],
      r[3] * x + r[4] * y + r[5] * z + t[1],
      r[6] * x + r[7] * y + r[8] * z + t[2],
      first + i + 1,
    );
  }
  for (const one of all) one?.drop(n);
}
