import type { Bounds, MeshReportView, PartView } from '../../shared/protocol/http.ts';
import { formatSi } from '../../shared/units/format.ts';

/** A line of the report on a part's surface. */
export interface ReportLine {
  readonly key: keyof MeshReportView | 'box' | 'insideOut';
  readonly label: string;
  readonly value: string;
  /** `outside`: to be put right before anything is made from it. `caution`: look at it. `none`: a figure, nothing is judged. */
  readonly state: 'within' | 'caution' | 'outside' | 'none';
  /** What it means, and what to do; only where something is wrong. */
  readonly means?: string;
  readonly todo?: string;
}

interface Fault {
  readonly key: keyof MeshReportView & ReportLine['key'];
  readonly label: string;
  readonly state: 'caution' | 'outside';
  readonly means: string;
  readonly todo: string;
}

/** In the order in which they are best put right: each may be gone once those above it are. */
const faults: readonly Fault[] = [
  {
    key: 'degenerate',
    label: 'Triangles without area',
    state: 'caution',
    means: 'They carry no surface, but may stop a program that comes later.',
    todo: 'Export again with a finer tolerance, or drop them where the part was drawn.',
  },
  {
    key: 'duplicate',
    label: 'Triangles that are there twice',
    state: 'caution',
    means: 'Where two lie on each other, metal and air cannot be told apart.',
    todo: 'Drop one of each pair.',
  },
  {
    key: 'flippedEdges',
    label: 'Edges with a flipped triangle',
    state: 'outside',
    means: 'One of the two triangles faces inwards: which side is metal is not settled there.',
    todo: 'Turn all faces outwards and export again.',
  },
  {
    key: 'openEdges',
    label: 'Open edges',
    state: 'outside',
    means: 'The surface ends there: it encloses nothing, so volume, walls and support are guesses.',
    todo: 'Close the holes and join the surfaces, then export again.',
  },
  {
    key: 'holes',
    label: 'Holes',
    state: 'outside',
    means: 'Open edges that make a closed loop.',
    todo: 'Close each where the part was drawn; a filled hole is never certain to be the right shape.',
  },
  {
    key: 'nonManifoldEdges',
    label: 'Edges with more than two faces',
    state: 'outside',
    means: 'Bodies touch along a line there, which is no thickness of metal.',
    todo: 'Unite the bodies with some overlap, or set them apart.',
  },
  {
    key: 'selfIntersections',
    label: 'Crossing triangles',
    state: 'outside',
    means: 'Bodies run into each other without being one: metal inside them counts twice.',
    todo: 'Unite the bodies where the part was drawn.',
  },
];

/** The report line by line, worst left in the order of mending. */
export function reportLines(report: MeshReportView, { bounds }: Pick<PartView, 'bounds'>): readonly ReportLine[] {
  return [
    ...faults.map((fault) => faultLine(fault, report)),
    shellLine(report),
    volumeLine(report),
    { key: 'area', label: 'Surface', value: areaText(report.area), state: 'none' },
    sizeLine(bounds),
  ];
}

function faultLine({ key, label, state, means, todo }: Fault, report: MeshReportView): ReportLine {
  const count = Number(report[key]);
  const searched = key !== 'selfIntersections' || report.selfIntersectionsComplete;
  if (count > 0)
    return { key, label, value: `${searched ? '' : 'at least '}${count.toLocaleString('en')}`, state, means, todo };
  if (searched) return { key, label, value: 'none', state: 'within' };
  return {
    ...{ key, label, value: 'not all looked at', state: 'caution' },
    means: 'The surface has too many triangles near each other to look at every pair.',
    todo: 'Export it coarser to be sure.',
  };
}

function shellLine({ shells }: MeshReportView): ReportLine {
  const line = { key: 'shells', label: 'Separate surfaces', value: String(shells) } as const;
  if (shells === 1) return { ...line, state: 'within' };
  return {
    ...line,
    state: 'caution',
    means: 'More than one body, or a hollow that is closed all round.',
    todo: 'One piece is one body: unite them, or bring each as a part of its own. A hollow needs a way out for powder.',
  };
}

function volumeLine({ volume, openEdges, flippedEdges }: MeshReportView): ReportLine {
  const line = { key: 'volume', label: 'Volume', value: volumeText(Math.abs(volume)) } as const;
  if (openEdges > 0 || flippedEdges > 0) return { ...line, value: 'cannot tell', state: 'none' };
  if (volume > 0) return { ...line, state: 'none' };
  return {
    ...{ key: 'insideOut', label: 'Inside out', value: volumeText(Math.abs(volume)), state: 'outside' },
    means: 'The whole surface faces inwards: metal and air are exchanged.',
    todo: 'Turn all faces outwards and export again.',
  };
}

/** From corner to corner, metres (own: an engine bay is one to two across). */
const MOST_OF_A_PART = 2;

function sizeLine(bounds: Bounds): ReportLine {
  const line = { key: 'box', label: 'Size', value: sizeText(bounds) } as const;
  const { min, max } = bounds;
  if (Math.hypot(...max.map((most, k) => most - (min[k] ?? 0))) <= MOST_OF_A_PART) return { ...line, state: 'none' };
  return {
    ...{ ...line, state: 'caution' },
    means: 'Larger than an engine bay.',
    todo: 'If the unit is wrong, bring the file again in the right one.',
  };
}

/** Cubic centimetres: what a part of this trade has some hundreds of. */
export function volumeText(volume: number): string {
  return `${(volume * 1e6).toFixed(1)} cm3`;
}

/** Square centimetres, for the same reason. */
export function areaText(area: number): string {
  return `${(area * 1e4).toFixed(1)} cm2`;
}

/** Length, width and height of a box. */
export function sizeText({ min, max }: Bounds): string {
  return max.map((most, k) => formatSi('length', most - (min[k] ?? 0))).join(' x ');
}

/** What the report comes to, in one line. */
export function reportSummary(lines: readonly ReportLine[]): {
  readonly state: ReportLine['state'];
  readonly text: string;
} {
  const wrong = lines.filter((line) => line.state === 'outside').length;
  const doubtful = lines.filter((line) => line.state === 'caution').length;
  if (wrong > 0) return { state: 'outside', text: `${things(wrong)} to put right` };
  if (doubtful > 0) return { state: 'caution', text: `Closed, ${things(doubtful)} to look at` };
  return { state: 'within', text: 'Closed, nothing wrong' };
}

const things = (n: number): string => `${n} thing${n === 1 ? '' : 's'}`;
