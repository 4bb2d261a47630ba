import { useEffect, useState } from 'react';
import type { PartMesh } from '../../state/partMesh.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

interface ShownMeshes {
  readonly meshes: ReadonlyMap<string, PartMesh>;
  readonly trouble: string | null;
}

/** Surfaces of every piece that has a part, by piece id. */
export function useMeshes(): ShownMeshes {
  const { session, parts } = useJob();
  const pieces = usePart(session.spec, (spec) => spec.pieces);
  const list = useStore(parts.list);
  const trouble = useStore(parts.trouble);
  const [meshes, setMeshes] = useState<ReadonlyMap<string, PartMesh>>(new Map());
  // biome-ignore lint/correctness/useExhaustiveDependencies: `list` decides what find() returns.
  useEffect(() => {
    let left = false;
    const loads = pieces.map(async (piece) => {
      const part = parts.find(piece);
      return [piece.id, part && (await parts.mesh(part).catch(() => null))] as const;
    });
    void Promise.all(loads).then((all) => {
      if (!left) setMeshes(new Map(all.flatMap(([id, mesh]) => (mesh ? [[id, mesh] as const] : []))));
    });
    return () => {
      left = true;
    };
  }, [pieces, list, parts]);
  return { meshes, trouble };
}
