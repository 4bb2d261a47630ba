import { useEffect, useMemo, useState } from 'react';
import type { LeftOut } from '../../../shared/protocol/nearness.ts';
import { heatClasses } from '../../../shared/trade/data/heat-classes.ts';
import type { NearLook } from '../../scene/nearLook.ts';
import { usePart, useStore } from '../../state/store.ts';
import type { NearnessSource, NearnessState } from '../../tiles/nearness.ts';
import { useJob } from '../job/context.ts';

/** A hand that drags a node rests for less, ms (own). */
const REST_MS = 300;

/** What is known of how near the header is to the components that have a scan. */
export interface FoundNearness {
  /** By component id; empty while it is switched off. */
  readonly looks: ReadonlyMap<string, NearLook>;
  /** Not measured yet on the header as it is now. */
  readonly waiting: boolean;
  /** Why nothing is told of some scan, each reason once. */
  readonly why: readonly string[];
  readonly leftOut: readonly LeftOut[];
}

type Sources = ReadonlyMap<string, NearnessSource>;

/** Follows how near the header is to the scans while it is switched on: asked again once an edit is stored and the hand rests. */
export function useNearness(on: boolean): FoundNearness {
  const components = usePart(useJob().session.spec, (spec) => spec.components);
  const sources = useSources(on);
  const rested = useRested(sources);
  const states = useStates(sources);
  const looks = useMemo(() => {
    const classes = new Map(components.map(({ id, heatClass }) => [id, heatClass]));
    return new Map(
      [...sources].map(([id, source]): [string, NearLook] => {
        const heatClass = classes.get(id);
        return [id, { source, clearance: heatClass ? heatClasses[heatClass].clearance : null }];
      }),
    );
  }, [sources, components]);
  return {
    looks,
    waiting: on && (!rested || states.some(({ asking, loading }) => asking || loading)),
    why: [...new Set(states.flatMap(({ why }) => why ?? []))],
    leftOut: states.find(({ leftOut }) => leftOut.length > 0)?.leftOut ?? [],
  };
}

const NONE: Sources = new Map();

/** The sources of all components that have a scan. */
function useSources(on: boolean): Sources {
  const { session, scans } = useJob();
  const components = usePart(session.spec, (spec) => spec.components);
  const list = useStore(scans.list);
  const [sources, setSources] = useState<Sources>(NONE);
  // biome-ignore lint/correctness/useExhaustiveDependencies: `list` decides what find() returns.
  useEffect(() => {
    let left = false;
    const finding = (on ? components : []).map(async (component) => {
      const scan = scans.find(component);
      // What is wrong with the scan itself is told where it is shown.
      const source = scan && (await scans.nearness(scan, component.placed ?? 'as-uploaded').catch(() => null));
      return source ? [[component.id, source] as const] : [];
    });
    void Promise.all(finding).then((found) => !left && setSources(new Map(found.flat())));
    return () => {
      left = true;
    };
  }, [on, components, list, scans]);
  return on ? sources : NONE;
}

/** Asks all sources anew when the server has an edit and no other follows; false until then. */
function useRested(sources: Sources): boolean {
  const { session, parts } = useJob();
  const { runners, tube, flange, pieces, datums } = useStore(session.spec);
  const brought = useStore(parts.list);
  const stored = usePart(session.specDocument.keep, ({ unconfirmed }) => unconfirmed === 0);
  const [asked, setAsked] = useState<object | null>(null);
  const header = useMemo(
    () => ({ sources, runners, tube, flange, pieces, datums, brought }),
    [sources, runners, tube, flange, pieces, datums, brought],
  );
  useEffect(() => {
    if (!stored || sources.size === 0) return;
    const timer = setTimeout(() => {
      for (const source of new Set(sources.values())) source.refresh();
      setAsked(header);
    }, REST_MS);
    return () => clearTimeout(timer);
  }, [header, stored, sources]);
  return asked === header;
}

/** What each source knows; the same list as long as none knows anything else. */
function useStates(sources: Sources): readonly NearnessState[] {
  const [states, setStates] = useState<readonly NearnessState[]>([]);
  useEffect(() => {
    const all = [...new Set(sources.values())];
    const look = (): void =>
      setStates((before) => {
        const now = all.map(({ state }) => state);
        return now.length === before.length && now.every((state, i) => state === before[i]) ? before : now;
      });
    look();
    const stops = all.map((source) => source.onLoaded(look));
    return () => {
      for (const stop of stops) stop();
    };
  }, [sources]);
  return states;
}
