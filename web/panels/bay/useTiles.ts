import { useEffect, useState } from 'react';
import type { ShownTiles } from '../../scene/scan.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

interface FoundTiles {
  readonly tiles: ReadonlyMap<string, ShownTiles>;
  /** Scans whose tiles are not known yet. */
  readonly loading: number;
  readonly trouble: string | null;
}

/** Tiles of every component that has a scan, by component id. */
export function useTiles(): FoundTiles {
  const { session, scans } = useJob();
  const spec = useStore(session.spec);
  const list = useStore(scans.list);
  const trouble = useStore(scans.trouble);
  const [tiles, setTiles] = useState<ReadonlyMap<string, ShownTiles>>(new Map());
  const [loading, setLoading] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `list` decides what find() returns.
  useEffect(() => {
    let left = false;
    const wanted = spec.components.flatMap((c) => {
      const scan = scans.find(c);
      return scan ? [{ id: c.id, scan }] : [];
    });
    setLoading(wanted.length);
    const ids = new Set(wanted.map(({ id }) => id));
    setTiles((shown) => new Map([...shown].filter(([id]) => ids.has(id))));
    for (const { id, scan } of wanted)
      scans
        .tiles(scan)
        // Each is shown as soon as it is there; a scan of which none is known is said so by the shelf.
        .then((found) => !left && setTiles((shown) => new Map(shown).set(id, found)))
        .catch(() => undefined)
        .finally(() => !left && setLoading((n) => n - 1));
    return () => {
      left = true;
    };
  }, [spec.components, list, scans]);
  return { tiles, loading, trouble };
}
