import { zipSync } from 'fflate';
import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../shared/geometry/random.ts';
import { asciiStl, binaryStl, boxTriangles, folder } from '../upload.fixture.ts';
import {
  asciiPly,
  binaryPly,
  boxObject,
  glb,
  glbBox,
  MM,
  model,
  obj,
  problemOf,
  threeMf,
} from './mesh-file.fixture.ts';
import { readMesh } from './mesh-file.ts';
import { zipEntries } from './zip.ts';

const stl = binaryStl(boxTriangles());
const { json, binary } = glbBox();
const xml = model(boxObject(1), '<item objectid="1"/>');
const changed = (bytes: Uint8Array, at: number, value: number): Buffer => {
  const copy = Buffer.from(bytes);
  copy[at] = value;
  return copy;
};
const withJson = (change: Record<string, unknown>): Buffer => glb({ ...json, ...change }, binary);
/** Millions of equal bytes pack a thousand to one. */
const bomb = (): Uint8Array => zipSync({ '3D/3dmodel.model': new Uint8Array(40_000_000).fill(60) });

describe('refuses with what was expected and what came', () => {
  it.each<[string, string | Uint8Array, string, RegExp]>([
    ['nothing', '', 'empty', /Expected a mesh, got a file of 0 bytes/],
    ['noise', Buffer.from([1, 2, 3, 0, 5]), 'unknown-format', /Expected STL, PLY, OBJ, 3MF, GLB or STEP, got 5 bytes/],
    ['a scan', 'LASF and more', 'unsupported', /got LAS or LAZ, which is a scan/],
    ['text without a mesh', '1 2 3\n4 5 6\n', 'unknown-format', /Expected STL/],
    [
      'a wrong unit',
      binaryStl(boxTriangles().map((t) => t.map((x) => x / 1000))),
      'implausible-extents',
      /plausible in/,
    ],

    ['STL cut short', stl.subarray(0, 500), 'truncated', /promises 12 triangles = 684 bytes, the file has 500/],
    ['STL of a lying count', changed(stl, 83, 0x7f), 'truncated', /promises 2,130,706,444 triangles/],
    ['STL without triangles', binaryStl([]), 'empty', /0 triangles/],
    [
      'STL with NaN',
      binaryStl([[0, 0, 0, Number.NaN, 0, 0, 50, 50, 0]]),
      'not-finite',
      /1 are NaN or Inf, the first at triangle 1/,
    ],
    ['STL with Inf', asciiStl([[0, 0, 0, Number.POSITIVE_INFINITY, 0, 0, 50, 50, 0]]), 'not-finite', /first at line 5/],
    ['text STL cut short', asciiStl(boxTriangles()).slice(0, 900), 'truncated', /"endsolid"/],
    [
      'text STL cut in a vertex',
      asciiStl(boxTriangles()).slice(0, asciiStl(boxTriangles()).indexOf('vertex') + 8),
      'malformed',
      /vertex x y z/,
    ],
    ['two vertices', asciiStl(boxTriangles()).replace(/ *vertex.*\n/, ''), 'malformed', /3 vertices before line/],
    ['four vertices', asciiStl(boxTriangles()).replace(/( *vertex.*\n)/, '$1$1'), 'malformed', /three in a facet/],

    ['PLY header without end', asciiPly().slice(0, 60), 'truncated', /ends with "end_header"/],
    ['PLY of points', asciiPly().replace(/element face 12\n.*\n/, ''), 'empty', /Upload points as a scan/],
    ['PLY without z', asciiPly().replace('property float z\n', ''), 'no-coordinates', /z missing/],
    [
      'PLY of lying vertices',
      asciiPly().replace('vertex 8', 'vertex 800000000'),
      'truncated',
      /promises 800,000,000 of "vertex"/,
    ],
    [
      'PLY one face short',
      asciiPly().trimEnd().split('\n').slice(0, -1).join('\n'),
      'truncated',
      /after 11 of 12 of "face"/,
    ],
    [
      'PLY vertex number too high',
      asciiPly().replace(/3 0 2 3\n/, '3 0 2 8\n'),
      'malformed',
      /below 8, counted from 0; triangle 1 names 8/,
    ],
    ['PLY vertex number below 0', asciiPly().replace(/3 0 2 3\n/, '3 0 2 -1\n'), 'malformed', /names -1/],
    ['PLY face of two', asciiPly().replace(/3 0 2 3\n/, '2 0 2\n'), 'malformed', /3 to 10,000 corners/],
    ['PLY word among numbers', asciiPly().replace('100 60 40', '100 sixty 40'), 'malformed', /line 17 is not one/],
    [
      'PLY unknown type',
      asciiPly().replace('list uchar int', 'list uchar constructor'),
      'unsupported',
      /"constructor"/,
    ],
    ['binary PLY cut short', binaryPly(true).subarray(0, -40), 'truncated', /promises 8 of "vertex"|ends in number/],
    ['binary PLY in the last list', binaryPly(true).subarray(0, -5), 'truncated', /ends in number/],

    [
      'OBJ vertex number too high',
      obj().replace(/f .*/, 'f 1 2 9'),
      'malformed',
      /below 8, counted from 0; triangle 1 names 8/,
    ],
    ['OBJ vertex number 0', obj().replace(/f .*/, 'f 0 1 2'), 'malformed', /from 1 or below 0/],
    ['OBJ before the first', obj().replace(/f .*/, 'f -9 -1 -2'), 'malformed', /names -9/],
    ['OBJ half a number', obj().replace(/f .*/, 'f 1.5 1 2'), 'malformed', /whole vertex numbers/],
    ['OBJ face of two', obj().replace(/f .*/, 'f 1 2'), 'malformed', /3 corners or more/],
    ['OBJ without faces', obj().replace(/f .*\n/g, ''), 'empty', /0 triangles and 8 points; upload points as a scan/],
    ['OBJ broken vertex', obj().replace(/v .*/, 'v 1 2'), 'malformed', /"v x y z"/],
    ['OBJ line going on', obj().replace(/f (.*)/, 'f \\\n$1'), 'unsupported', /goes on in the next/],
    ['OBJ NaN', obj().replace(/v .*/, 'v nan 2 3'), 'not-finite', /first at line 4/],

    ['3MF bomb', bomb(), 'too-large', /at most 200 times its packed size .* got 40,000,000 bytes/],
    ['3MF cut short', threeMf(xml).subarray(0, 300), 'truncated', /ZIP directory at the end/],
    ['3MF damaged', damaged(threeMf(xml)), 'malformed', /damaged|check sum/],
    ['3MF without model', threeMf(xml, 'a.txt'), 'unsupported', /a \.model in it, got "a\.txt"/],
    ['3MF unfinished', threeMf(xml.slice(0, -10)), 'truncated', /end with "<\/model>"|last tag/],
    ['3MF endless tag', threeMf(`<model ${noise(200_000)}`), 'malformed', /tags of at most 65,536 bytes/],
    ['3MF odd unit', threeMf(xml.replace('millimeter', 'furlong')), 'unsupported', /"furlong"/],
    ['3MF no build', threeMf(model(boxObject(1), '')), 'empty', /items to build/],
    ['3MF unknown object', threeMf(model(boxObject(1), '<item objectid="7"/>')), 'malformed', /object "7"/],
    [
      '3MF in a circle',
      threeMf(
        model('<object id="1"><components><component objectid="1"/></components></object>', '<item objectid="1"/>'),
      ),
      'malformed',
      /part of itself/,
    ],
    [
      '3MF odd transform',
      threeMf(model(boxObject(1), '<item objectid="1" transform="1 2 3"/>')),
      'malformed',
      /12 numbers/,
    ],
    [
      '3MF in several models',
      threeMf(model(boxObject(1), '<item objectid="1" p:path="/b.model"/>')),
      'unsupported',
      /one model/,
    ],
    ['3MF vertex number', threeMf(xml.replace('v2="2"', 'v2="8"')), 'malformed', /below 8, triangle 1 names 8/],
    ['3MF vertex number below 0', threeMf(xml.replace('v2="2"', 'v2="-2"')), 'malformed', /names -2/],
    ['3MF lacking y', threeMf(xml.replace('y = "0"', 'w = "0"')), 'malformed', /Expected numbers x, y and z/],
    ['3MF word', threeMf(xml.replace('y = "0"', 'y = "zero"')), 'malformed', /Expected numbers x, y and z/],
    ['3MF Inf', threeMf(xml.replace('y = "0"', 'y = "1e999"')), 'not-finite', /vertex 1/],
    [
      '3MF own declarations',
      threeMf(xml.replace('<model', '<!DOCTYPE a [<!ENTITY b "c">]><model')),
      'unsupported',
      /"<!"/,
    ],
    [
      '3MF in UTF-16',
      zipSync({ 'a.model': new Uint8Array(Buffer.from(`\ufeff${xml}`, 'utf16le')) }),
      'unsupported',
      /UTF-16/,
    ],

    ['GLB cut short', glb(json, binary).subarray(0, -10), 'truncated', /promises .* bytes, the file has/],
    ['GLB of 10 bytes', glb(json).subarray(0, 10), 'truncated', /header of 20 bytes/],
    ['GLB version 1', changed(glb(json, binary), 4, 1), 'unsupported', /version 2 .* got 1/],
    ['GLB no JSON', changed(glb(json, binary), 21, 64), 'malformed', /cannot be read/],
    ['GLB odd shape', withJson({ nodes: [{ mesh: -1 }] }), 'malformed', /nodes\.0\.mesh/],
    [
      'GLB packed otherwise',
      withJson({ extensionsRequired: ['KHR_draco_mesh_compression'] }),
      'unsupported',
      /needs "KHR_draco/,
    ],
    [
      'GLB of lines',
      withJson({ meshes: [{ primitives: [{ attributes: { POSITION: 0 }, mode: 1 }] }] }),
      'unsupported',
      /mode 1/,
    ],
    ['GLB nodes in a circle', withJson({ nodes: [{ children: [0] }] }), 'malformed', /its own part/],
    [
      'GLB doubling nodes',
      withJson({ nodes: Array.from({ length: 30 }, (_, i) => ({ children: i < 29 ? [i + 1, i + 1] : [] })) }),
      'malformed',
      /part of two/,
    ],
    [
      'GLB numbers past the end',
      withJson({ accessors: [{ bufferView: 0, componentType: 5126, count: 9e8, type: 'VEC3' }, accessor(1)] }),
      'truncated',
      /900,000,000 numbers/,
    ],
    [
      'GLB vertex number',
      withJson({ accessors: [{ ...accessor(0), count: 7 }, accessor(1)] }),
      'malformed',
      /below 7, got 7/,
    ],
    [
      'GLB numbers elsewhere',
      withJson({ buffers: [{ byteLength: 1, uri: 'a.bin' }] }),
      'unsupported',
      /inside the GLB/,
    ],
    ['GLB without a mesh', withJson({ nodes: [{}] }), 'empty', /0 triangles/],
  ])('%s', (_, content, code, words) => {
    const problem = problemOf(content);
    expect(`${problem.code}: ${problem.message}`).toMatch(words);
    expect(problem.code).toBe(code);
    expect(problem.message).not.toContain(folder);
  });

  it.each([
    ['binary STL', stl],
    ['text STL', asciiStl(boxTriangles())],
    ['PLY', asciiPly()],
    ['OBJ', obj()],
    ['3MF', threeMf(xml)],
    ['GLB', glb(json, binary)],
  ])('more triangles than allowed: %s', (_, content) => {
    expect(problemOf(content, { ...MM, maxTriangles: 11 })).toMatchObject({
      code: 'too-large',
      message: /at most 11 triangles/,
    });
  });

  it.each([0, -1, Number.NaN, Number.POSITIVE_INFINITY])('a unit of %s', (unitFactor) => {
    expect(problemOf(stl, { unitFactor })).toMatchObject({
      code: 'unsupported',
      message: /metres per file unit above 0/,
    });
  });

  it('a folder, and what is not there', () => {
    expect(readMesh(folder, MM)).toMatchObject({ ok: false, problem: { code: 'unreadable-file' } });
    expect(readMesh(`${folder}/none`, MM)).toMatchObject({
      problem: { message: 'The mesh file could not be opened: ENOENT.' },
    });
  });
});

it('a ZIP directory with more files than allowed is refused before it is read', () => {
  const end = Buffer.alloc(22);
  end.writeUInt32LE(0x06054b50, 0);
  end.writeUInt16LE(60_000, 10);
  const source = { size: 22, read: (into: Uint8Array, at: number) => end.copy(into, 0, at) };
  expect(() => zipEntries(source)).toThrow(/at most 4,096 files in the archive, got 60,000/);
});

function accessor(n: number): object {
  return (
    [
      { bufferView: 0, componentType: 5126, count: 8, type: 'VEC3' },
      { bufferView: 1, componentType: 5123, count: 36, type: 'SCALAR' },
    ][n] ?? {}
  );
}

/** A few bytes in the packed model turned over. */
function damaged(archive: Uint8Array): Uint8Array {
  const bytes = archive.slice();
  for (let i = 120; i < 130; i++) bytes[i] = 255 - (bytes[i] ?? 0);
  return bytes;
}

/** Text that does not pack. */
function noise(length: number): string {
  const random = seededRandom(63);
  return Array.from({ length }, () => String.fromCharCode(97 + Math.floor(26 * random()))).join('');
}
