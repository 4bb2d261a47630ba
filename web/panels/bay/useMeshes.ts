import { useEffect, useState } from 'react';
import type { PartView } from '../../../shared/protocol/http.ts';
import type { PartMesh } from '../../scene/partMesh.ts';
import { usePart, useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

interface ShownMeshes {
  readonly meshes: ReadonlyMap<string, PartMesh>;
  readonly looked: PartMesh | null;
  readonly trouble: string | null;
}

/** Surfaces of every piece that has a part, by piece id; and of one part more, which is looked at. */
export function useMeshes(looked: PartView | null): ShownMeshes {
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
  const [extra, setExtra] = useState<{ readonly part: PartView; readonly mesh: PartMesh } | null>(null);
  useEffect(() => {
    let left = false;
    if (looked)
      void parts.mesh(looked).then(
        (mesh) => !left && setExtra({ part: looked, mesh }),
        () => undefined,
      );
    return () => {
      left = true;
    };
  }, [looked, parts]);
  return { meshes, looked: extra && extra.part === looked ? extra.mesh : null, trouble };
}
