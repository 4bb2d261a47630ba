import { useEffect, useRef, useState } from 'react';
import type { Comparison } from '../../../shared/protocol/revisions.ts';
import { readSpec } from '../../../shared/spec/reader.ts';
import type { Spec } from '../../../shared/spec/spec.ts';
import { formatSi } from '../../../shared/units/format.ts';
import { type ComparedRunner, CompareScene } from '../../scene/compareScene.ts';
import { runnerLine } from '../bay/view.ts';
import { useJob } from '../job/context.ts';
import { useFetched } from './useFetched.ts';

interface PictureProps {
  readonly comparison: Comparison;
  /** Names of the two states, as in the legend. */
  readonly names: readonly [string, string];
}

const stateWords = { same: 'as it was', added: 'new', removed: 'gone', unknown: 'cannot be drawn in both' } as const;

/** The old header over the new one, and how far each runner moved. */
export function ComparePicture({ comparison, names }: PictureProps): React.ReactNode {
  const { revisions, session } = useJob();
  const specOf = async (end: Comparison['before']): Promise<Spec> =>
    end.revision ? readSpec(await revisions.entries(end.revision.id)) : session.spec.get();
  const { before, after, runners } = comparison;
  const key = `${before.revision?.id} ${before.seq} ${after.revision?.id} ${after.seq}`;
  const specs = useFetched(key, () => Promise.all([specOf(before), specOf(after)]));
  const moved = new Set(runners.filter(({ state }) => state !== 'same').map(({ id }) => id));
  return (
    <section aria-label="Geometry">
      <h3>Geometry</h3>
      {specs.state === 'problem' && (
        <p className="problem" role="alert">
          {specs.text}
        </p>
      )}
      {specs.state === 'there' && <Drawing key={key} specs={specs.value} moved={moved} names={names} />}
      <ul className="runner-shifts">
        {runners.map(({ id, name, state, largest }) => (
          <li key={id} data-shift={id}>
            {name}: {state === 'moved' ? `moved by up to ${formatSi('length', largest ?? 0)}` : stateWords[state]}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface DrawingProps {
  readonly specs: readonly [Spec, Spec];
  readonly moved: ReadonlySet<string>;
  readonly names: readonly [string, string];
}

function Drawing({ specs, moved, names }: DrawingProps): React.ReactNode {
  const canvas = useRef<HTMLCanvasElement>(null);
  const [problem, setProblem] = useState(false);
  // biome-ignore lint/correctness/useExhaustiveDependencies: what is drawn does not change while it is mounted.
  useEffect(() => {
    if (!canvas.current) return;
    try {
      const scene = new CompareScene(canvas.current);
      scene.update({ before: runnersIn(specs[0]), after: runnersIn(specs[1]), moved });
      return () => scene.dispose();
    } catch {
      setProblem(true);
    }
  }, []);
  if (problem) return <p>This browser cannot draw in 3D. The figures below say how far each runner moved.</p>;
  return (
    <figure className="compare-figure">
      <div className="compare-canvas">
        <canvas ref={canvas} role="img" aria-label={`The runners of ${names[0]} drawn over those of ${names[1]}`} />
      </div>
      <figcaption className="compare-legend">
        <span>
          <Sample dashed /> {names[0]}, where it differs: shadow, dashed centreline
        </span>
        <span>
          <Sample /> {names[1]}: metal, whole centreline
        </span>
      </figcaption>
    </figure>
  );
}

function Sample({ dashed = false }: { readonly dashed?: boolean }): React.ReactNode {
  return (
    <svg className="compare-sample" viewBox="0 0 48 12" aria-hidden="true" focusable="false">
      <path d="M1 6h46" className={dashed ? 'sample-old' : 'sample-new'} />
    </svg>
  );
}

function runnersIn(spec: Spec): ComparedRunner[] {
  const outerRadius = (spec.tube.outsideDiameter ?? 0.04) / 2;
  return spec.runners.flatMap((runner) => {
    const line = runnerLine(runner);
    return line ? [{ id: runner.id, line, outerRadius }] : [];
  });
}
