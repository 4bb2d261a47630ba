import { useEffect, useState } from 'react';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';

interface ShownPoints {
  readonly points: ReadonlyMap<string, Float32Array>;
  readonly loading: number;
  readonly trouble: string | null;
}

/** Points of every component that has a scan, by component id. */
export function usePoints(): ShownPoints {
  const { session, scans } = useJob();
  const spec = useStore(session.spec);
  const list = useStore(scans.list);
  const trouble = useStore(scans.trouble);
  const [points, setPoints] = useState<ReadonlyMap<string, Float32Array>>(new Map());
  const [loading, setLoading] = useState(0);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `list` decides what find() returns.
  useEffect(() => {
    let left = false;
    const wanted = spec.components.flatMap((c) => {
      const scan = scans.find(c);
      return scan ? [{ id: c.id, scan }] : [];
    });
    setLoading(wanted.length);
    const loads = wanted.map(async ({ id, scan }) => {
      const loaded = await scans.points(scan).catch(() => null);
      if (!left) setLoading((n) => n - 1);
      return [id, loaded] as const;
    });
    void Promise.all(loads).then((all) => {
      if (left) return;
      setPoints(new Map(all.flatMap(([id, p]) => (p ? [[id, p] as const] : []))));
    });
    return () => {
      left = true;
    };
  }, [spec.components, list, scans]);
  return { points, loading, trouble };
}
