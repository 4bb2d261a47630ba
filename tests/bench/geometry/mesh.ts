import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type BufferGeometry, Mesh } from 'three';
import { GLTFLoader } from 'three/examples/jsm/loaders/GLTFLoader.js';
import { OBJLoader } from 'three/examples/jsm/loaders/OBJLoader.js';
import { PLYLoader } from 'three/examples/jsm/loaders/PLYLoader.js';
import { STLLoader } from 'three/examples/jsm/loaders/STLLoader.js';
import { mergeVertices } from 'three/examples/jsm/utils/BufferGeometryUtils.js';
import { gapRays, wallRays } from '../../../server/measure/kernels/surface-rays.ts';
import { readMesh } from '../../../server/measure/readers/mesh/mesh-file.ts';
import { poseMeasures, searchPoses } from '../../../shared/geometry/mesh/buildPose.ts';
import { enclosedVolumes } from '../../../shared/geometry/mesh/enclosed.ts';
import { threeMfBytes } from '../../../shared/geometry/mesh/export3mf.ts';
import { glbBytes } from '../../../shared/geometry/mesh/exportGlb.ts';
import { plyBytes } from '../../../shared/geometry/mesh/exportPly.ts';
import { stlBytes } from '../../../shared/geometry/mesh/exportStl.ts';
import { leastAlong } from '../../../shared/geometry/mesh/extent.ts';
import { facesOf } from '../../../shared/geometry/mesh/faces.ts';
import { smallestInnerGap } from '../../../shared/geometry/mesh/gapInside.ts';
import { massProperties } from '../../../shared/geometry/mesh/massProperties.ts';
import { meshReport } from '../../../shared/geometry/mesh/meshReport.ts';
import { normalBins, plateSupport } from '../../../shared/geometry/mesh/normalBins.ts';
import { NO_TURN, spreadDirections, turnedMesh } from '../../../shared/geometry/mesh/rotation.ts';
import { crossingPairs } from '../../../shared/geometry/mesh/selfIntersection.ts';
import { bendMesh, moved, unwelded } from '../../../shared/geometry/mesh/shapes.fixture.ts';
import type { SeamPlace, Torch } from '../../../shared/geometry/mesh/torchAccess.ts';
import { torchAccess } from '../../../shared/geometry/mesh/torchAccess.ts';
import type { TriangleMesh } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { joinMeshes, triangleCount } from '../../../shared/geometry/mesh/triangleMesh.ts';
import { triangleTree } from '../../../shared/geometry/mesh/triangleTree.ts';
import { thinnestWall } from '../../../shared/geometry/mesh/wallThickness.ts';
import { weldVertices } from '../../../shared/geometry/mesh/weld.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { threeMfInBrowser } from './data/browserReading.ts';
import { asciiPly, asciiStl, obj } from './data/meshTexts.ts';

/*
 * Measures meshes on a made header: npx tsx tests/bench/geometry/mesh.ts [thousands of triangles, 300]. Least CPU time of the process over
 * some runs; ratios against three's loaders and against going through everything one by one, on the same data.
 */

const say = (line: string): void => void process.stdout.write(`${line}\n`);

/** Keeps the work from being thought useless. */
let sink = 0;

function least(runs: number, work: () => number): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < runs; i++) {
    const before = process.cpuUsage();
    sink += work();
    const { user, system } = process.cpuUsage(before);
    best = Math.min(best, (user + system) / 1000);
  }
  return best;
}

function report(name: string, ours: number, against?: { readonly name: string; readonly time: number }): void {
  const ratio = against
    ? `   ${against.name} ${against.time.toFixed(1)} ms = ${(against.time / ours).toFixed(1)} x`
    : '';
  say(`${name.padEnd(48)} ${ours.toFixed(1).padStart(9)} ms${ratio}`);
}

/** Six bent runners side by side, walls of 1.4 mm. */
function header(thousands: number): TriangleMesh {
  const facets = 60;
  const along = Math.max(4, Math.round((thousands * 1000) / 6 / (4 * facets)) - 1);
  const runner = bendMesh({ bend: 0.09, outer: 0.0222, inner: 0.0208 }, 2.2, { along, facets });
  const row = joinMeshes(Array.from({ length: 6 }, (_, i) => moved(runner, [0, 0, 0.06 * i])));
  return turnedMesh(row, [0.1, 0.2, 0.3, 0.9]);
}

const buffer = (content: string | Uint8Array): ArrayBuffer =>
  typeof content === 'string' ? new TextEncoder().encode(content).buffer : Uint8Array.from(content).buffer;

/** Facet normals would keep the corners of neighbouring triangles apart. */
const shapeOnly = (geometry: BufferGeometry): BufferGeometry => geometry.deleteAttribute('normal');

async function reading(mesh: TriangleMesh, folder: string): Promise<void> {
  say(
    `-- reading ${(triangleCount(mesh) / 1000).toFixed(0)} thousand triangles (ours: from a file, joined, checked; three: from memory, STL, GLB and 3MF with its mergeVertices)`,
  );
  const files: readonly (readonly [string, string | Uint8Array, ((content: string | Uint8Array) => unknown)?])[] = [
    ['STL binary', stlBytes(mesh), (c) => mergeVertices(shapeOnly(new STLLoader().parse(buffer(c))), 1e-9)],
    ['STL text', asciiStl(mesh), (c) => mergeVertices(shapeOnly(new STLLoader().parse(String(c))), 1e-9)],
    ['PLY binary', plyBytes(mesh), (c) => new PLYLoader().parse(buffer(c))],
    ['PLY text', asciiPly(mesh), (c) => new PLYLoader().parse(String(c))],
    ['OBJ', obj(mesh), (c) => new OBJLoader().parse(String(c))],
    ['GLB', glbBytes(mesh)],
    ['3MF', threeMfBytes(mesh)],
  ];
  for (const [name, content, three] of files) {
    const path = join(folder, 'part');
    writeFileSync(path, content);
    const ours = least(5, () => {
      const outcome = readMesh(path, { unitFactor: 0.001 });
      if (!outcome.ok) throw new Error(outcome.problem.message);
      return outcome.read.mesh.indices.length;
    });
    const megabytes = content.length / 1e6;
    const label = `${name}, ${megabytes.toFixed(1)} MB, ${(megabytes / (ours / 1000)).toFixed(0)} MB/s`;
    report(label, ours, three && { name: 'three', time: least(2, () => Number(three(content) !== undefined)) });
    if (name === 'GLB') await againstGltf(buffer(content), ours);
    if (name === '3MF') await againstThreeMf(threeMfBytes(mesh), ours);
  }
}

/** The same work as ours: its vertices merged. Its bare parse hands out views of the file, nothing joined or checked. */
async function againstGltf(content: ArrayBuffer, ours: number): Promise<void> {
  let [bare, merged] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
  for (let run = 0; run < 3; run++) {
    const before = process.cpuUsage();
    const spent = (): number => {
      const { user, system } = process.cpuUsage(before);
      return (user + system) / 1000;
    };
    const { scene } = await new GLTFLoader().parseAsync(content.slice(0), '');
    bare = Math.min(bare, spent());
    scene.traverse((part) => {
      if (part instanceof Mesh) sink += mergeVertices(shapeOnly(part.geometry), 1e-9).index?.count ?? 0;
    });
    merged = Math.min(merged, spent());
  }
  sayAgainst('GLB', 'three, parse and mergeVertices', merged, ours);
  sayAgainst('GLB', 'three, bare parse (views of the file, nothing joined or checked)', bare, ours);
}

async function againstThreeMf(content: Uint8Array, ours: number): Promise<void> {
  const found = await threeMfInBrowser(content, 3);
  if (typeof found === 'string') {
    say(`   SKIPPED: 3MF against three needs Chromium for its DOMParser: ${found}`);
    return;
  }
  sayAgainst('3MF', 'three in Chromium (wall), parse and mergeVertices', found.merged, ours);
  sayAgainst('3MF', 'three in Chromium (wall), bare parse', found.bare, ours);
}

const sayAgainst = (format: string, what: string, time: number, ours: number): void =>
  say(`   ${format}: ${what} ${time.toFixed(1)} ms = ${(time / ours).toFixed(1)} x`);

const TORCH: Torch = { standOff: 0.002, cupRadius: 0.008, cupLength: 0.04, bodyRadius: 0.014, bodyLength: 0.126 };

/** Places spread over the surface, the torch square to it. */
function seamOn(mesh: TriangleMesh): readonly SeamPlace[] {
  const { count, normal, middle } = facesOf(mesh);
  const at = (list: Float64Array, t: number): Vec3 => [list[3 * t] ?? 0, list[3 * t + 1] ?? 0, list[3 * t + 2] ?? 0];
  return Array.from({ length: 28 }, (_, i) => {
    const t = Math.floor((i * count) / 28);
    return { at: at(middle, t), away: at(normal, t) };
  });
}

function judging(mesh: TriangleMesh): void {
  const seam = seamOn(mesh);
  say(`-- judging ${(triangleCount(mesh) / 1000).toFixed(0)} thousand triangles`);
  report(
    'tree',
    least(3, () => triangleTree(mesh).nodes),
  );
  report(
    'mass properties',
    least(5, () => massProperties(mesh).volume),
  );
  const soup = unwelded(mesh);
  report(
    'weld, equal vertices',
    least(3, () => weldVertices(soup).joined),
  );
  report(
    'weld, within 1 um',
    least(3, () => weldVertices(soup, 1e-6).joined),
  );
  const tree = triangleTree(mesh);
  const { tests } = crossingPairs(mesh, {}, tree);
  report(
    `self-intersection, ${tests} exact tests`,
    least(3, () => crossingPairs(mesh, {}, tree).tests),
  );
  report(
    'whole report',
    least(2, () => meshReport(mesh).volume),
  );
  report(
    'thinnest wall',
    least(2, () => thinnestWall(mesh, { cast: wallRays(mesh) })?.smallest ?? 0),
  );
  report(
    'thinnest wall, without the kernel',
    least(2, () => thinnestWall(mesh)?.smallest ?? 0),
  );
  report(
    'smallest inner gap',
    least(2, () => smallestInnerGap(mesh, { cast: gapRays(mesh) })?.gap ?? 0),
  );
  report(
    'smallest inner gap, without the kernel',
    least(2, () => smallestInnerGap(mesh)?.gap ?? 0),
  );
  report(
    'torch access, 28 places, all of 128 ways',
    least(3, () => torchAccess(tree, seam, TORCH, { angle: 0.7 }).reduce((sum, { free }) => sum + free, 0)),
  );
  const once = { angle: 0.7, firstOnly: true };
  report(
    'torch access, 28 places, until one way is free',
    least(3, () => torchAccess(tree, seam, TORCH, once).reduce((sum, { free }) => sum + free, 0)),
  );
  report(
    'enclosed volumes, 2 mm',
    least(2, () => enclosedVolumes(mesh, 0.002).length),
  );
}

function orienting(mesh: TriangleMesh): void {
  const count = 1000;
  say(`-- orientation, ${count} directions, ${(triangleCount(mesh) / 1000).toFixed(0)} thousand triangles`);
  const directions = spreadDirections(count);
  const faces = facesOf(mesh);
  const tree = triangleTree(mesh);
  const cosine = Math.cos(Math.PI / 4);
  const bins = normalBins(faces);
  report(
    'binning, once',
    least(3, () => normalBins(faces).bins),
  );
  const some = directions.slice(0, count / 10);
  // Every tenth direction, with the height of the plate given: only the faces are timed.
  const plates = some.map((up) => leastAlong(tree, up));
  const brute = least(3, () =>
    some.reduce((sum, up, i) => sum + onePass(faces, up, { cosine, plate: plates[i] ?? 0 }), 0),
  );
  const binned = least(3, () =>
    directions.reduce((sum, up) => sum + plateSupport(bins, up, { cosine, plate: leastAlong(tree, up) }).volume, 0),
  );
  report('all directions, exact', binned, { name: 'face by face', time: 10 * brute });
  const worst = some.reduce((most, up, i) => {
    const limit = { cosine, plate: plates[i] ?? 0 };
    return Math.max(most, Math.abs(onePass(faces, up, limit) / plateSupport(bins, up, limit).volume - 1));
  }, 0);
  say(`   worst relative difference of the volumes ${worst.toExponential(1)}`);
  report(
    'one pose, columns of 1 mm',
    least(3, () => poseMeasures(mesh, NO_TURN, { overhangAngle: Math.PI / 4 }).supportToPart),
  );
  report(
    'search, 1000 directions, 20 best',
    least(1, () => searchPoses(mesh, { overhangAngle: Math.PI / 4 }).length),
  );
}

/** Support down to the plate, every face looked at. */
function onePass(
  { count, area, normal, middle }: ReturnType<typeof facesOf>,
  [x, y, z]: readonly [number, number, number],
  { cosine, plate }: { readonly cosine: number; readonly plate: number },
): number {
  let volume = 0;
  for (let t = 0, o = 0; t < count; t++, o += 3) {
    const down = -((normal[o] ?? 0) * x + (normal[o + 1] ?? 0) * y + (normal[o + 2] ?? 0) * z);
    if (down <= cosine) continue;
    volume +=
      down * (area[t] ?? 0) * ((middle[o] ?? 0) * x + (middle[o + 1] ?? 0) * y + (middle[o + 2] ?? 0) * z - plate);
  }
  return volume;
}

/** Runs all of it; the argument is the size of the header in thousands of triangles. */
export async function benchMeshes(thousands = 300): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'mesh-bench-'));
  try {
    const mesh = header(thousands);
    await reading(mesh, folder);
    judging(mesh);
    orienting(mesh);
    if (Number.isNaN(sink)) say('a measure was no number');
  } finally {
    rmSync(folder, { recursive: true });
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) await benchMeshes(Number(process.argv[2] ?? 300));
