import type { TubeShape } from '../geometry/tubeShape.ts';
import type { Spec } from '../spec/spec.ts';
import { derive, type Known } from '../units/known.ts';
import { tubeCentreline } from './centreline.ts';
import { type FactContext, MemoStore } from './context.ts';
import { pieceMesh } from './pieceMesh.ts';
import { piecesToPrint } from './piecesToPrint.ts';
import { runnerBore } from './tube.ts';
import { headerTubes } from './tubeShapes.ts';

/** What the whole header is made one solid of: its printed pieces, or its runners while no piece is printed. */
export interface SolidMakings {
  readonly tubes: readonly TubeShape[];
  /** Inside diameter of the tubes, metres. */
  readonly bore: number;
  readonly pieces: readonly { readonly name: string; readonly mesh: string }[];
}

/** The makings of the whole; missing what is not there yet. */
export function headerSolid(spec: Spec, measured: FactContext['measured']): Known<SolidMakings> {
  const context: FactContext = { spec, measured, memo: new MemoStore().memo };
  const pieces = piecesToPrint(spec);
  // Tubes that run through themselves are no solid; they count only where nothing is printed.
  const runners = pieces.length > 0 ? [] : spec.runners;
  const lines = Object.fromEntries(runners.map((runner) => [runner.id, tubeCentreline(context, runner)]));
  const meshes = Object.fromEntries(pieces.map((piece) => [piece.id, pieceMesh(piece)]));
  return derive(
    {
      meshes: derive(meshes, (all) => ({ ...all })),
      lines: derive(lines, (all) => ({ ...all })),
      tubes: headerTubes(context),
      bore: runnerBore(context),
    },
    (v) => ({
      tubes: v.tubes,
      bore: v.bore,
      pieces: pieces.flatMap(({ id, name = id }) => {
        const mesh = v.meshes[id];
        return mesh === undefined ? [] : [{ name, mesh }];
      }),
    }),
  );
}
