import { describe, expect, it } from 'vitest';
import { seededRandom } from '../../../../shared/geometry/random.ts';
import { asciiStl, binaryStl, boxTriangles, written } from '../upload.fixture.ts';
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

/* Files made to cost time or memory, and files broken at random. */

const stl = binaryStl(boxTriangles());
const { json, binary } = glbBox();
const xml = model(boxObject(1), '<item objectid="1"/>');

/** Text that does not pack. */
function noise(length: number): string {
  const random = seededRandom(63);
  return Array.from({ length }, () => String.fromCharCode(97 + Math.floor(26 * random()))).join('');
}

/** Each object is twice the next; the last has nothing in it. */
const doubling = (levels: number): string =>
  Array.from({ length: levels }, (_, i) => {
    const next = `<component objectid="${i + 2}"/>`;
    return `<object id="${i + 1}"><components>${i + 1 < levels ? next + next : ''}</components></object>`;
  }).join('');

describe('counts that double or never end', () => {
  it('3MF components of components', () => {
    const problem = problemOf(threeMf(model(doubling(30), '<item objectid="1"/>')));
    expect(problem).toMatchObject({ code: 'too-large', message: /at most 100000 objects/ });
  });

  it('GLB points that no triangle uses, in many places', () => {
    const nodes = Array.from({ length: 40 }, (_, i) => ({ mesh: 0, children: i < 39 ? [i + 1] : [] }));
    const accessors = [
      { bufferView: 0, componentType: 5126, count: 8, type: 'VEC3' },
      { bufferView: 1, componentType: 5123, count: 0, type: 'SCALAR' },
    ];
    const file = glb({ ...json, nodes, accessors }, binary);
    expect(problemOf(file)).toMatchObject({ code: 'empty' });
    expect(problemOf(file, { ...MM, maxTriangles: 100 })).toMatchObject({ code: 'too-large' });
  });

  it.each(['ascii', 'binary_little_endian'])('records of nothing, any number of them, cost no time: %s', (encoding) => {
    const whole = encoding === 'ascii' ? asciiPly() : binaryPly(true).toString('latin1');
    const nothing = whole.replace('element vertex', 'element nothing 900000000000000\nelement vertex');
    const outcome = readMesh(written(Buffer.from(nothing, 'latin1')), MM);
    expect(outcome.ok).toBe(encoding !== 'ascii');
  });

  it('a long tag of one word costs no more than its length', () => {
    const long = xml.replace('<model ', `<model ${noise(60_000)} `);
    expect(readMesh(written(threeMf(long)), MM)).toMatchObject({ ok: true });
  });
});

describe('a model too large to unpack in one go', () => {
  // Above 32 MB; comments are passed over, and a megabyte of noise packs no better the second time.
  const filling = Array.from({ length: 20 }, () => `<!-- ${noise(50_000)} -->`).join('');
  const large = threeMf(xml.replace('<model ', `${filling.repeat(34)}<model `));
  // In the middle of the packed model.
  const flawed = large.slice().fill(0x55, large.length >> 1, (large.length >> 1) + 64);

  it('is read piece by piece, as a small one is', () => {
    const [small, great] = [xml, undefined].map((text) => readMesh(written(text ? threeMf(text) : large), MM));
    expect(large.length).toBeGreaterThan(15e6);
    expect(small).toMatchObject({ ok: true });
    expect(great).toEqual(small);
  }, 60_000);

  it('is refused when it is damaged', () => {
    expect(problemOf(flawed)).toMatchObject({ code: 'malformed' });
  }, 60_000);
});

/** The same problem or mesh each time, and never anything but those two. */
describe.each([
  ['binary STL', stl],
  ['text STL', Buffer.from(asciiStl(boxTriangles()))],
  ['text PLY', Buffer.from(asciiPly())],
  ['binary PLY', binaryPly(false)],
  ['OBJ', Buffer.from(obj())],
  ['3MF', Buffer.from(threeMf(xml))],
  ['GLB', glb(json, binary)],
])('bytes changed and cut at random: %s', (name, whole) => {
  it.each([61, 62])('300 times (seed %s)', (seed) => {
    const random = seededRandom(seed);
    let refused = 0;
    for (let n = 0; n < 300; n++) {
      const bytes = Buffer.from(whole);
      for (let k = 0; k < 1 + 3 * random(); k++)
        bytes[Math.floor(bytes.length * random())] = Math.floor(256 * random());
      const cut = n % 3 === 0 ? bytes.subarray(0, Math.floor(bytes.length * random())) : bytes;
      const outcome = readMesh(written(cut), { ...MM, maxTriangles: 1000 });
      if (!outcome.ok) {
        refused++;
        expect(outcome.problem.message, name).toMatch(/^(Expected|The header promises|The file ends|The GLB file)/);
      } else expect(outcome.read.mesh.positions.every(Number.isFinite)).toBe(true);
    }
    expect(refused).toBeGreaterThan(80);
  });
});
