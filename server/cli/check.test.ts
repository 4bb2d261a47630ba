import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { demoPoints } from '../../prisma/demo/bay.ts';
import { demoSpec } from '../../prisma/demo/header.ts';
import { demoPiece, demoPieces } from '../../prisma/demo/pieces.ts';
import { buildCentreline } from '../../shared/geometry/centreline.ts';
import { stlBytes } from '../../shared/geometry/mesh/exportStl.ts';
import { sweptPipe } from '../../shared/geometry/mesh/sweptPipe.ts';
import { exportSpec, parseSpecText } from '../../shared/spec/file.ts';
import { baseEntries } from '../../tests/support/baseSpec.ts';
import { writeBinaryPly } from '../measure/ply.ts';
import { runCommand } from './cli.fixture.ts';

const folder = mkdtempSync(join(tmpdir(), 'check-'));
afterAll(() => rmSync(folder, { recursive: true }));

function written(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

const specFile = (name: string, entries: ReadonlyMap<string, unknown>) =>
  written(name, JSON.stringify(exportSpec(entries)));
const demo = demoSpec(new Map());
const demoFile = specFile('demo.json', demo);

/** The base spec with a short, slim socket that really goes between runner 1 and its stud, less these branches. */
const without = (...branches: readonly string[]): [string, unknown][] =>
  [...baseEntries({ 'tools.socket': 0.014, 'tools.socketLength': 0.06 })].filter(
    ([path]) => !branches.includes(path.split('.')[0] ?? ''),
  );
/** It passes everything; without a bay component or a piece nothing has to be measured on files, nor can a clearance have been. */
const sound = without('components', 'clearances', 'hotClearances', 'pieces');
/** No clearance was measured on the mock-up: the scans of these tests stand anywhere. */
const scanned = new Map(without('clearances', 'pieces'));
const soundFile = specFile('sound.json', new Map(sound));

/** One sheet of points in millimetres, 1.25 mm apart, above or below the runners of the base spec. */
function scan(name: string, height: number): string {
  const rows = Array.from(
    { length: 48_000 },
    (_, i) => `${(i % 200) * 1.25 - 75} ${Math.floor(i / 200) * 1.25 - 100} ${height}`,
  );
  return written(name, `${rows.join('\n')}\n`);
}

describe('check', () => {
  it('exits 0 when everything passes, and says what it is not', async () => {
    const { code, out, errors } = await runCommand('check', soundFile);
    expect(errors).toBe('');
    expect(code, out).toBe(0);
    expect(out).toMatch(/^PASS, spare .*hoop-stress/m);
    expect(out).toMatch(/\d+ pass, 0 caution, 0 fail, 0 unknown\. A verdict is a check, not an approval\.$/);
  });

  it('exits 2 for a fail, with what to change first', async () => {
    const failing = specFile(
      'failing.json',
      new Map([...sound, ['turbo.mass', 60], ['turbo.arm', 0.5], ['turbo.dynamicFactor', 20]]),
    );
    const { code, out } = await runCommand('check', failing);
    expect(code).toBe(2);
    expect(out).toMatch(/^FAIL, over by .* turbo-bending/m);
    expect(out).toMatch(/change first: .*source: /);
    expect(out).toContain(', 1 fail, 0 unknown.');
  });

  it('exits 2 for what cannot be known, naming what is missing', async () => {
    const { code, out } = await runCommand(
      'check',
      specFile('missing.json', new Map(sound.filter(([path]) => path !== 'tube.wall'))),
    );
    expect(code).toBe(2);
    expect(out).toMatch(/NO DATA.*hoop-stress.*Runner wall/);
    expect(out).toContain('0 fail');
  });

  it('exits 2 while a component has no scan given', async () => {
    const { code, out } = await runCommand('check', specFile('whole.json', baseEntries()));
    expect(code).toBe(2);
    expect(out).toMatch(/bay-clearance: Runner 1 x .*expected the scan file of this component: give it with --scan/);
  });

  it.each([
    ['beside them', -72, 0, 0],
    ['through the runners', 100, 2, 2],
  ])('measures against a scan %s', async (name, height, expected, fails) => {
    const file = specFile('measured.json', scanned);
    const component = [...baseEntries().keys()].find((path) => /^components\.[^.]+$/.test(path))?.split('.')[1];
    const { code, out, errors } = await runCommand(
      'check',
      file,
      '--scan',
      `${component}=${scan(`${name.replace(/ /g, '-')}.xyz`, height)}`,
    );
    expect(errors).toBe('');
    expect(code, out).toBe(expected);
    expect(out.match(/^FAIL.*bay-clearance/gm) ?? []).toHaveLength(fails);
    expect(out).toContain('0 unknown');
  });

  it('reads the same scan in another unit as another scan', async () => {
    const file = specFile('metres.json', baseEntries());
    const near = scan('units.xyz', 100);
    const inMillimetres = await runCommand('check', file, '--scan', near, '--json');
    const inCentimetres = await runCommand('check', file, '--scan', near, '--unit', 'cm', '--json');
    const gaps = (json: string) =>
      JSON.parse(json)
        .verdicts.filter((one: { rule: string }) => one.rule === 'bay-clearance')
        .map((one: { measured: number }) => one.measured);
    expect(gaps(inMillimetres.out)).not.toEqual(gaps(inCentimetres.out));
  });

  it('says how many points of a scan have no place, and measures on the others', async () => {
    const whole = readFileSync(scan('whole.xyz', 100), 'utf8');
    const file = specFile('missed.json', baseEntries());
    const missed = written('missed.xyz', `nan nan nan\n${whole}nan nan nan\n`);
    const { out, errors } = await runCommand('check', file, '--scan', missed, '--json');
    expect(errors).toBe(`check: --scan ${missed}: 2 points without a place were left out`);
    const other = await runCommand('check', file, '--scan', written('whole.xyz', whole), '--json');
    expect(other.errors).toBe('');
    expect(out).toBe(other.out);
  });

  it('checks the demo job against its own bay and finds the faults it is shown with', async () => {
    const file = written('steering-shaft.ply', writeBinaryPly(demoPoints('steering-shaft', 20), 1000));
    const { code, out } = await runCommand('check', demoFile, '--scan', `steering-shaft=${file}`, '--json');
    expect(code).toBe(2);
    const { verdicts } = JSON.parse(out);
    const of = (rule: string, subject: string) =>
      verdicts.find((one: { key: string }) => one.key === `${rule}/${subject}`);
    expect(of('bay-clearance', 'r1~steering-shaft')).toMatchObject({ status: 'fail' });
    expect(
      of('stud-preload', verdicts.find((one: { rule: string }) => one.rule === 'stud-preload').subject.id),
    ).toMatchObject({ status: 'fail' });
    expect(of('bay-clearance', 'r1~steering-shaft').digest).toMatch(/^[0-9a-f]{16}$/);
  });

  it('measures a piece, standing as the spec says', async () => {
    const piece = (turnX: number) =>
      specFile(
        'piece.json',
        new Map([
          ...without('components', 'clearances', 'hotClearances'),
          ['pieces.q1.turnX', turnX],
          ['pieces.q1.turnY', 0],
        ]),
      );
    const straight = { outer: 0.02225, inner: 0.02025, maxChordError: 5e-5 };
    // The port end of runner 1, along y: upright once turned about X by a right angle.
    const line = buildCentreline([
      { x: 0, y: 0, z: 0, radius: 0 },
      { x: 0, y: 0.07, z: 0, radius: 0 },
    ]);
    if (!line.ok) throw new Error(line.code);
    const file = written('port-end.stl', stlBytes(sweptPipe(line, straight)));
    const upright = await runCommand('check', piece(Math.PI / 2), '--part', `q1=${file}`);
    expect(upright.errors).toBe('');
    expect(upright.out).toMatch(/^PASS.*mesh-closed: Runner 1/m);
    expect(upright.out).toMatch(/^PASS.*wall-minimum: Runner 1 {2}2\.00 mm/m);
    expect(upright.out).toMatch(/^PASS.*overhang-support: Runner 1 {2}0\.0 mm2/m);
    expect(upright.out).toMatch(/^PASS.*build-time: Build/m);
    expect(upright.out).not.toMatch(/expected the part file/);
    const lying = await runCommand('check', piece(0), '--part', `Runner 1=${file}`, '--json');
    const { verdicts } = JSON.parse(lying.out);
    // Short and open at both ends: whatever hangs in it is reached.
    expect(verdicts.find((one: { key: string }) => one.key === 'bore-support/q1')).toMatchObject({
      status: 'notApplicable',
    });
  });

  it('exits 2 while a piece has no part file given', async () => {
    const { code, out } = await runCommand('check', specFile('whole.json', baseEntries()));
    expect(code).toBe(2);
    expect(out).toMatch(/wall-minimum: Runner 1 .*expected the part file of this piece: give it with --part/);
  });

  it('checks the pieces of the demo job and finds the one that is shown lying', { timeout: 60_000 }, async () => {
    const pieces = demoPieces.filter((id) => id !== 'runner-5-collector');
    const given = pieces.flatMap((id) => ['--part', `${id}=${written(`${id}.stl`, stlBytes(demoPiece(id)))}`]);
    const { verdicts } = JSON.parse((await runCommand('check', demoFile, ...given, '--json')).out);
    const status = (key: string) => verdicts.find((one: { key: string }) => one.key === key)?.status;
    for (const id of pieces) {
      for (const rule of ['mesh-closed', 'wall-minimum', 'gap-minimum', 'build-volume', 'layer-stair'])
        expect([rule, id, status(`${rule}/${id}`)]).toEqual([rule, id, 'pass']);
      for (const rule of ['bore-support', 'overhang-support'])
        expect([rule, id, status(`${rule}/${id}`)]).toEqual([rule, id, id === 'runner-3' ? 'fail' : 'pass']);
    }
    // A build is known once all its pieces are.
    expect(status('build-time/build')).toBe('unknown');
    expect(() => demoPiece('runner-9')).toThrow(/runner-9/);
  });

  const limit = (id: string, most: unknown): [string, unknown][] => [
    [`limits.${id}`, 1],
    [`limits.${id}.most`, most],
    [`limits.${id}.reason`, 'long runners'],
  ];

  it('says where a limit of the job stands in, in words and as data', async () => {
    const file = specFile('limit.json', new Map([...sound, ...limit('runner-mach', 0.05)]));
    const { code, out } = await runCommand('check', file);
    expect(code).toBe(2);
    expect(out).toMatch(/^FAIL, over by .* runner-mach.*limit at most 0\.050/m);
    expect(out).toMatch(/^ +limit set by this job: long runners; default at most 0\.450$/m);
    const json = JSON.parse((await runCommand('check', file, '--json')).out);
    const verdict = json.verdicts.find((one: { rule: string }) => one.rule === 'runner-mach');
    expect(verdict).toMatchObject({ override: { reason: 'long runners', was: { kind: 'max', value: 0.45 } } });
    expect(json.unusedLimits).toEqual([]);
  });

  it('exits 2 for a limit of no rule, and says so', async () => {
    const file = specFile('stray.json', new Map([...sound, ...limit('no-such-rule', 1)]));
    const { code, errors, out } = await runCommand('check', file);
    expect(out).toContain('0 fail, 0 unknown');
    expect(code).toBe(2);
    expect(errors).toContain('limits.no-such-rule: not used: expected the id of a rule, got no-such-rule');
    const json = JSON.parse((await runCommand('check', file, '--json')).out);
    expect(json.unusedLimits).toHaveLength(1);
  });

  it('names the own material a verdict rests on', async () => {
    const own: [string, unknown][] = [
      ['tube.alloy', 'lot7'],
      ['materials.lot7', 1],
      ['materials.lot7.name', 'Lot 7'],
      ['materials.lot7.source', 'report 12'],
      ['materials.lot7.trust', 'own'],
      ['materials.lot7.reason', 'printed here'],
      ['materials.lot7.density', 8200],
    ];
    const { code, out } = await runCommand('check', specFile('own.json', new Map([...sound, ...own])));
    expect(code).toBe(2);
    expect(out).toMatch(
      /header-mass.*\n +own material Lot 7: report 12 \(own derivation\); used because: printed here$/m,
    );
    expect(out).toMatch(/NO DATA: needs Yield strength.*hoop-stress/);
  });

  it('leaves no files behind', async () => {
    const before = readdirSync(tmpdir()).filter((name) => name.startsWith('slipjoint-check-'));
    await runCommand('check', demoFile);
    expect(readdirSync(tmpdir()).filter((name) => name.startsWith('slipjoint-check-'))).toEqual(before);
  });

  it.each<[string, () => readonly string[], RegExp]>([
    ['no file', () => [], /expected one spec file, got 0/],
    ['two files', () => [soundFile, demoFile], /expected one spec file, got 2/],
    ['an option it does not know', () => [soundFile, '--fast'], /--fast/],
    ['a file that is not there', () => [join(folder, 'gone.json')], /gone\.json cannot be read/],
    ['a folder', () => [folder], /cannot be read/],
    ['no JSON', () => [written('a.json', '{ "format": ')], /a\.json: file: expected JSON/],
    ['another format', () => [written('b.json', '{"format":"else","version":1}')], /b\.json: format: expected/],
    [
      'a bad value, by its path',
      () => [written('c.json', '{"format":"slipjoint-spec","version":1,"tube":{"wall":"2 K"}}')],
      /c\.json: tube\.wall: expected a length in .* got "K"/,
    ],
    [
      'a unit nobody measures in',
      () => [soundFile, '--unit', 'furlong'],
      /--unit: expected one of .*mm.*, got "furlong"/,
    ],
    [
      'a scan for nothing in the spec',
      () => [demoFile, '--scan', 'firewall=x.ply'],
      /--scan firewall: the spec has no bay component of that id or name \(it has .*steering/,
    ],
    [
      'two scans for one component',
      () => [demoFile, '--scan', 'steering-shaft=a', '--scan', 'steering-shaft=b'],
      /expected one file for steering-shaft, got two/,
    ],
    [
      'a piece the spec does not have',
      () => [demoFile, '--part', 'runner-9=x.stl'],
      /--part runner-9: the spec has no piece of that id or name \(it has .*runner-3/,
    ],
    [
      'two part files for one piece',
      () => [demoFile, '--part', 'runner-3=a', '--part', 'runner-3=b'],
      /--part: expected one file for runner-3, got two/,
    ],
    [
      'a part that is none',
      () => [demoFile, '--part', `runner-3=${written('p.stl', 'hello')}`],
      /--part .*p\.stl: Expected STL, PLY, OBJ, 3MF, GLB or STEP/,
    ],
    ['a scan that is not there', () => [demoFile, '--scan', `steering-shaft=${join(folder, 'gone.ply')}`], /gone\.ply/],
    [
      'a scan that is none',
      () => [demoFile, '--scan', `steering-shaft=${written('d.ply', 'hello')}`],
      /--scan .*d\.ply: Expected/,
    ],
  ])('exits 1 for %s', async (_, words, message) => {
    const { code, out, errors } = await runCommand('check', ...words());
    expect(errors).toMatch(message);
    expect({ code, out }).toEqual({ code: 1, out: '' });
  });
});

/** A file holds the number; the text somebody typed it as stays in the project. */
const inSi = (value: unknown): unknown =>
  typeof value === 'object' && value !== null && 'si' in value ? value.si : value;

describe('the demo spec as a file', () => {
  it('comes back as it went, through file and check', async () => {
    const text = readFileSync(demoFile, 'utf8');
    const read = parseSpecText(text);
    if (!read.ok) throw new Error(JSON.stringify(read.problems));
    expect(read.entries).toEqual(new Map([...demo].map(([path, value]) => [path, inSi(value)])));
    expect(JSON.stringify(exportSpec(read.entries))).toBe(text);
    const [first, again] = [
      await runCommand('check', demoFile, '--json'),
      await runCommand('check', specFile('again.json', read.entries), '--json'),
    ];
    expect(JSON.parse(first.out)).toEqual(JSON.parse(again.out));
  });

  it('is the file that stands beside the demo data', () => {
    const kept: unknown = JSON.parse(readFileSync('prisma/demo/header.json', 'utf8'));
    expect(kept).toEqual(JSON.parse(JSON.stringify(exportSpec(demo))));
  });
});
