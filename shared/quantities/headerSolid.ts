import type { TubeShape } from '../geometry/tubeShape.ts';
import type { Spec } from '../spec/spec.ts';
import { derive, type Known } from '../units/known.ts';
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
  const meshes = Object.fromEntries(pieces.map((piece) => [piece.id, pieceMesh(piece)]));
  return derive(
    {
      meshes: derive(meshes, (all) => ({ ...all })),
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
