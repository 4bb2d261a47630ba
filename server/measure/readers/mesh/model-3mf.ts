import type { Cursor } from '../number-scan.ts';
import { PLAIN_ROW, scanNumber } from '../number-scan.ts';
import { grouped, refuse } from '../problem.ts';
import type { MeshSink } from './mesh-sink.ts';
import type { Placement } from './placement.ts';
import { columnsPlacement } from './placement.ts';
import type { Attribute, Tag } from './tag-scan.ts';
import { attributesOf, backOver, forwardOver, nextAttribute, TagScan, tagName } from './tag-scan.ts';

/** Metres in a unit of a 3MF model. Source: 3MF core specification 1.3, chapter 3 (memory); the inch of 1959. */
const UNITS: Readonly<Record<string, number>> = {
  micron: 1e-6,
  millimeter: 0.001,
  centimeter: 0.01,
  inch: 0.0254,
  foot: 0.3048,
  meter: 1,
};

/** Vertices and triangles of one object, in units of the model. */
export interface ObjectMesh {
  readonly positions: number[];
  readonly indices: number[];
}

/** An object used by another or by the build, moved. */
export interface PlacedObject {
  readonly object: string;
  readonly placement: Placement;
}

/** What a model says: its unit, its objects and what of them is to be built. */
export interface Model {
  unitFactor: number;
  readonly meshes: Map<string, ObjectMesh>;
  readonly parts: Map<string, PlacedObject[]>;
  readonly build: PlacedObject[];
}

/** Reads a model piece by piece. Only what bounds shape is looked at; materials, slices and other extensions are passed over. */
export class ModelScan {
  readonly model: Model = { unitFactor: UNITS.millimeter ?? 0.001, meshes: new Map(), parts: new Map(), build: [] };
  private readonly tags = new TagScan((tag) => this.take(tag));
  private readonly sink: MeshSink;
  private object = '';
  private mesh: ObjectMesh | undefined;
  private uses: PlacedObject[] | undefined;
  private triangles = 0;
  private vertices = 0;
  private ended = false;

  /** @param sink whose limits count for all objects together */
  constructor(sink: MeshSink) {
    this.sink = sink;
  }

  push(piece: Uint8Array): void {
    this.tags.push(piece);
  }

  end(): Model {
    this.tags.end();
    if (!this.ended) refuse('truncated', 'Expected the model to end with "</model>", the file ends before that.');
    return this.model;
  }

  private take(tag: Tag): void {
    // Vertices and triangles come by the million: their first letters decide before anything is made of them.
    if (this.mesh && isWord(tag, VERTEX)) this.vertex(tag, this.mesh);
    else if (this.mesh && isWord(tag, TRIANGLE)) this.triangle(tag, this.mesh);
    else this.named(tagName(tag), tag);
  }

  private named(name: string, tag: Tag): void {
    if (name === 'model') this.unit(attributesOf(tag).get('unit'));
    else if (name === 'object') this.object = attributesOf(tag).get('id') ?? '';
    else if (name === 'mesh') {
      this.mesh = { positions: [], indices: [] };
      this.model.meshes.set(this.object, this.mesh);
    } else if (name === '/mesh') this.mesh = undefined;
    else if (name === 'components') {
      this.uses = [];
      this.model.parts.set(this.object, this.uses);
    } else if (name === '/components') this.uses = undefined;
    else if (name === 'component') this.uses?.push(placedObject(tag));
    else if (name === 'item') this.model.build.push(placedObject(tag));
    else if (name === '/model') this.ended = true;
  }

  private unit(unit = 'millimeter'): void {
    const factor = Object.hasOwn(UNITS, unit) ? UNITS[unit] : undefined;
    if (factor === undefined) {
      refuse('unsupported', `Expected a unit ${Object.keys(UNITS).join(', ')}, the model says "${unit.slice(0, 40)}".`);
    }
    this.model.unitFactor = factor;
  }

  private vertex(tag: Tag, { positions }: ObjectMesh): void {
    this.vertices++;
    // The sink's own limit: six times the vertices of a closed mesh.
    if (this.vertices > 3 * this.sink.options.maxTriangles) this.sink.expect(this.sink.options.maxTriangles + 1);
    readThree(tag, XYZ, 'x, y and z');
    positions.push(three[0] ?? 0, three[1] ?? 0, three[2] ?? 0);
  }

  private triangle(tag: Tag, { indices }: ObjectMesh): void {
    this.sink.expect(++this.triangles);
    readThree(tag, CORNERS, 'v1, v2 and v3');
    for (let corner = 0; corner < 3; corner++) {
      const vertex = three[corner] ?? 0;
      if (!Number.isInteger(vertex) || vertex < 0) {
        const came = `triangle ${grouped(this.triangles)} names ${vertex}`;
        refuse('malformed', `Expected whole vertex numbers from 0, ${came}.`);
      }
      indices.push(vertex);
    }
  }
}

function placedObject(tag: Tag): PlacedObject {
  const attributes = attributesOf(tag);
  if (Array.from(attributes.keys()).some((name) => name.endsWith(':path'))) {
    refuse('unsupported', 'Expected a 3MF file with one model, its objects lie in several. Export it as one model.');
  }
  const text = attributes.get('transform');
  const numbers = text?.trim().split(/\s+/).map(Number);
  if (numbers && (numbers.length !== 12 || !numbers.every(Number.isFinite))) {
    refuse('malformed', `Expected a transform of 12 numbers, got "${(text ?? '').slice(0, 60)}".`);
  }
  return { object: attributes.get('objectid') ?? '', placement: columnsPlacement(numbers) };
}

const bytesOf = (word: string): readonly number[] => Array.from(word, (letter) => letter.charCodeAt(0));
const [VERTEX, TRIANGLE] = [bytesOf('vertex'), bytesOf('triangle')];
const XYZ = ['x', 'y', 'z'].map(bytesOf);
const CORNERS = ['v1', 'v2', 'v3'].map(bytesOf);

/** Whether a tag is this word, followed by a blank. */
function isWord({ bytes, start, end }: Tag, word: readonly number[]): boolean {
  if (start + word.length >= end || (bytes[start + word.length] ?? 0) > 32) return false;
  for (let i = 0; i < word.length; i++) if (bytes[start + i] !== word[i]) return false;
  return true;
}

const cursor: Cursor = { at: 0, value: 0 };
const number: { bytes: Uint8Array; end: number } = { bytes: new Uint8Array(0), end: 0 };
/** The numbers read last. */
const three = new Float64Array(3);

/** Reads the three numbers a tag must have, in whatever order among whatever others. No callback and no list: it runs for every vertex. */
function readThree(tag: Tag, names: readonly (readonly number[])[], expected: string): void {
  const { bytes, start, end } = tag;
  let got = 0;
  number.bytes = bytes;
  attribute.valueEnd = start;
  while (nextAttribute(tag, attribute)) {
    let which = 0;
    while (which < 3 && !endsWith(bytes, attribute.nameEnd, names[which] ?? [])) which++;
    if (which === 3) continue;
    cursor.at = forwardOver(bytes, attribute.valueStart);
    number.end = backOver(bytes, attribute.valueEnd);
    if (cursor.at >= number.end || !scanNumber(number, PLAIN_ROW.decimal, cursor)) continue;
    three[which] = cursor.value;
    got |= 1 << which;
  }
  if (got === 7) return;
  const came = Buffer.from(bytes.subarray(start, Math.min(end, start + 80))).toString('latin1');
  refuse('malformed', `Expected numbers ${expected} in "<${came}>".`);
}

const attribute: Attribute = { nameEnd: 0, valueStart: 0, valueEnd: 0 };

/** Whether a whole name ends there: what stands before it must be blank. */
function endsWith(bytes: Uint8Array, end: number, name: readonly number[]): boolean {
  const from = end - name.length;
  if (from < 1 || (bytes[from - 1] ?? 0) > 32) return false;
  for (let i = 0; i < name.length; i++) if (bytes[from + i] !== name[i]) return false;
  return true;
}
