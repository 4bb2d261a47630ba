import { describe, expect, it } from 'vitest';
import { stepMesh } from '../../../tests/support/stepReader.ts';
import { buildCentreline } from '../centreline.ts';
import { massProperties } from '../mesh/massProperties.ts';
import { meshReport } from '../mesh/meshReport.ts';
import { weldVertices } from '../mesh/weld.ts';
import { wallVolume } from '../tube.ts';
import { StepFile } from './stepFile.ts';
import { stepOfTubes } from './stepOfTubes.ts';

const about = { name: 'Header', time: '2026-01-02T03:04:05Z' };

function line(...nodes: readonly (readonly [number, number, number, number])[]) {
  const centreline = buildCentreline(nodes.map(([x, y, z, radius]) => ({ x, y, z, radius })));
  if (!centreline.ok) throw new Error(centreline.code);
  return centreline;
}

const bent = line([0, 0, 0, 0], [0, 0.15, 0.02, 0.06], [0.1, 0.2, -0.15, 0.05], [0.1, 0.3, -0.3, 0]);
const straight = line([0.3, 0, 0, 0], [0.3, 0.1, 0, 0]);
const size = { outerRadius: 0.0212, innerRadius: 0.0192 };

describe('tubes as STEP, read back by an independent modeller (occt-import-js)', () => {
  it.each([
    ['a straight tube', straight],
    ['a tube with two bends out of plane', bent],
  ])('%s is one closed solid of the volume of its closed form', async (_, centreline) => {
    const mesh = await stepMesh(stepOfTubes([{ ...size, centreline, name: 'Runner 1' }], about));
    const report = meshReport(weldVertices(mesh, 1e-7).mesh);
    expect(report).toMatchObject({ openEdges: 0, nonManifoldEdges: 0, flippedEdges: 0, selfIntersections: 0 });
    expect(report.shells).toHaveLength(1);
    const exact = wallVolume(size.outerRadius, size.outerRadius - size.innerRadius, centreline.length);
    // The modeller cuts facets with a turn of 6 degrees: (2 pi / 60)^2 / 6 = 0.18 % on each skin.
    expect(Math.abs(massProperties(mesh).volume / exact - 1)).toBeLessThan(0.004);
    expect(massProperties(mesh).volume).toBeGreaterThan(0);
  });

  it('several tubes are several solids, where they were', async () => {
    const tubes = [
      { ...size, centreline: bent, name: 'Runner 1' },
      { ...size, centreline: straight, name: 'Runner «2»' },
    ];
    const mesh = await stepMesh(stepOfTubes(tubes, about));
    const { shells } = meshReport(weldVertices(mesh, 1e-7).mesh);
    expect(shells).toHaveLength(2);
    expect(Math.max(...mesh.positions.filter((_, i) => i % 3 === 0))).toBeCloseTo(0.3212, 5);
  });
});

describe('the text', () => {
  it('is deterministic and says its units, its time and its names', () => {
    const make = () => stepOfTubes([{ ...size, centreline: straight, name: "Runner 'é'" }], about);
    const text = make();
    expect(make()).toBe(text);
    expect(text).toContain("FILE_NAME('Header','2026-01-02T03:04:05Z'");
    expect(text).toContain('SI_UNIT(.MILLI.,.METRE.)');
    expect(text).toContain(String.raw`'Runner ''\X2\00E9\X0\'''`);
  });

  it('writes reals as the encoding asks', () => {
    const file = new StepFile();
    file.add('A', 1, 0.5, 1e-7, -3e21, 0.1 + 0.2, -1e-15);
    expect(file.text(Object.assign({ description: '' }, about))).toContain('#1=A(1.,0.5,1.E-7,-3.E+21,0.3,0.);');
  });

  it.each([0, 0.0212, 0.03, -0.01, Number.NaN])('refuses an inside radius of %s m', (innerRadius) => {
    const tube = { centreline: straight, outerRadius: 0.0212, innerRadius, name: 'Runner 1' };
    expect(() => stepOfTubes([tube], about)).toThrow(/expected an inside radius between 0 and 0.0212 m/);
  });
});
