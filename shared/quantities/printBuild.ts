import type { Spec } from '../spec/spec.ts';
import { printDensities } from '../trade/data/print-densities.ts';
import { buildTime } from '../trade/print/build-time.ts';
import { at, derive, type Known, known, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { measuredPose, measuredReport, type Piece } from './partFigures.ts';
import { piecesToPrint } from './piecesToPrint.ts';

/** All printed pieces as one build. SI. */
export interface PrintBuild {
  readonly partVolume: number;
  /** Metal of the supports: an upper bound. */
  readonly supportVolume: number;
  /** Of the tallest piece, from the plate. */
  readonly height: number;
  readonly pieces: number;
}

/** Share of a block support's envelope that is metal. Source: common practice, no source: 10 to 25 %; the upper end. */
const supportSolid = 0.25;

/** All printed pieces together on one plate, copies counted. Without a piece: missing. */
export function printBuild(context: FactContext): Known<PrintBuild> {
  const pieces = piecesToPrint(context.spec);
  if (pieces.length === 0) return unknown({ reason: 'missing', paths: ['pieces'] });
  const made = derive(Object.fromEntries(pieces.map((piece) => [piece.id, pieceOnPlate(context, piece)])), known);
  if (!made.known) return made;
  return context.memo('print-build', Object.values(made.value), () =>
    known(
      Object.values(made.value).reduce<PrintBuild>(
        (sum, one) => ({
          partVolume: sum.partVolume + one.partVolume,
          supportVolume: sum.supportVolume + one.supportVolume,
          height: Math.max(sum.height, one.height),
          pieces: sum.pieces + one.pieces,
        }),
        { partVolume: 0, supportVolume: 0, height: 0, pieces: 0 },
      ),
    ),
  );
}

/** One piece with all its copies. What stands under it in its height above the plate: a solid foot where it is flat there, support elsewhere. */
function pieceOnPlate(context: FactContext, piece: Piece): Known<PrintBuild> {
  const path = `pieces.${piece.id}`;
  const inputs = {
    report: measuredReport(context, piece),
    pose: measuredPose(context, piece),
    lift: at<number>(`${path}.lift`, piece.lift),
    supports: at(`${path}.supports`, piece.supports),
    copies: at<number>(`${path}.copies`, piece.copies),
  };
  const facts = derive(inputs, known);
  if (!facts.known) return facts;
  const { report, pose, lift, supports, copies } = facts.value;
  return context.memo(`piece-on-plate/${piece.id}`, [report, pose, lift, supports, copies], () => {
    const one = onPlate({ ...pose, volume: report.volume, height: pose.box[2] }, { lift, supports });
    return known({
      partVolume: copies * one.partVolume,
      supportVolume: copies * one.supportVolume,
      height: one.height,
      pieces: copies,
    });
  });
}

/** A part in a pose; SI. */
export interface PosedPart {
  readonly volume: number;
  readonly height: number;
  /** Of the faces that need support, those on the plate included; and of those on the plate. */
  readonly downskinArea: number;
  readonly plateArea: number;
  /** From those faces straight down to the part or the plate. */
  readonly supportToPart: number;
}

/** What stands on the plate for one copy of a piece. */
function onPlate(
  { volume, height, downskinArea, plateArea, supportToPart }: PosedPart,
  { lift, supports }: { readonly lift: number; readonly supports: string },
): Omit<PrintBuild, 'pieces'> {
  const supported = supports === 'none' ? 0 : supportToPart + (downskinArea - plateArea) * lift;
  return {
    partVolume: volume,
    supportVolume: plateArea * lift + supportSolid * supported,
    height: height + lift,
  };
}

/** What a printer is set to, as far as the time of a build goes by it. */
export const printerSettings = (printer: Spec['printer']) => ({
  layer: at<number>('printer.layer', printer.layer),
  recoatTime: at<number>('printer.recoat', printer.recoat),
  scanSpeed: at<number>('printer.scanSpeed', printer.scanSpeed),
  hatch: at<number>('printer.hatch', printer.hatch),
  efficiency: at<number>('printer.efficiency', printer.efficiency),
  overhead: at<number>('printer.overhead', printer.overhead),
});

/** Time to build one copy of a piece alone in a pose, s; good to 20 % as the build's own. Missing what the spec does not say of the printer yet. */
export function poseBuildTime({ printer }: Pick<Spec, 'printer'>, piece: Piece, posed: PosedPart): Known<number> {
  const path = `pieces.${piece.id}`;
  const inputs = {
    lift: at<number>(`${path}.lift`, piece.lift),
    supports: at(`${path}.supports`, piece.supports),
    ...printerSettings(printer),
  };
  return derive(inputs, ({ lift, supports, ...settings }): Known<number> => {
    const time = buildTime({ ...settings, ...onPlate(posed, { lift, supports }) });
    return time.known ? known(time.value.total) : time;
  });
}

/** Density of the powder that all printed pieces are made of, kg/m3. Of several powders: inconsistent, a build has one. */
export function buildDensity(spec: Spec): Known<number> {
  const pieces = piecesToPrint(spec);
  const alloys = Object.fromEntries(pieces.map(({ id, alloy }) => [id, at(`pieces.${id}.alloy`, alloy)]));
  return derive({ alloys: derive(alloys, known) }, (v): Known<number> => {
    const [first, ...others] = new Set(Object.values(v.alloys));
    if (first === undefined) return unknown({ reason: 'missing', paths: ['pieces'] });
    if (others.length === 0) return known(printDensities[first].value);
    const detail = `expected one powder for all pieces of a build, got ${[first, ...others].join(', ')}`;
    return unknown({ reason: 'inconsistent', detail, paths: pieces.map(({ id }) => `pieces.${id}.alloy`) });
  });
}
