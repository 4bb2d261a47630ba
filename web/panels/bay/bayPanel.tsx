import { useEffect, useMemo, useRef, useState } from 'react';
import { placeOnTube } from '../../../shared/geometry/anchor.ts';
import type { Vec3 } from '../../../shared/geometry/vector.ts';
import { openThread } from '../../../shared/markup/commands.ts';
import type { Anchor } from '../../../shared/markup/markup.ts';
import type { PartView } from '../../../shared/protocol/http.ts';
import { moveNode } from '../../../shared/spec/commands.ts';
import { BayScene, type Hit, viewNames } from '../../scene/bayScene.ts';
import { useStore } from '../../state/store.ts';
import { useJob } from '../job/context.ts';
import { PartsDialog } from '../parts/partsDialog.tsx';
import { timeId } from '../punch/punch.tsx';
import { UploadDialog } from '../upload/upload.tsx';
import { ComponentToggles } from './components.tsx';
import { fileDrop } from './fileDrop.ts';
import { NearnessLegend } from './nearness.tsx';
import { NewMarkup } from './newMarkup.tsx';
import { SendingChip, SentByOthers } from './sendingChip.tsx';
import { useAim } from './useAim.tsx';
import { useMeshes } from './useMeshes.ts';
import { useNearness } from './useNearness.ts';
import { useTiles } from './useTiles.ts';
import { bayView, pinPlace, runnerLine } from './view.ts';

declare global {
  interface Window {
    /** Screen places of the drag handles: lets a browser test drag what a hand would. */
    slipjointHandles?: () => ReturnType<BayScene['handlePlaces']>;
  }
}

interface BayPanelProps {
  readonly pinning: boolean;
  readonly onPinned: () => void;
}

/** A tenth of a millimetre: finer than any hand drags. */
const STEP = 1e-4;
const snap = (v: number): number => Math.round(v / STEP) * STEP;
const clean = (v: number): number => Number(snap(v).toFixed(6));

/** The 3D preview with the scan, the pins and the clashes. */
export function BayPanel({ pinning, onPinned }: BayPanelProps): React.ReactNode {
  const job = useJob();
  const { session, canEdit, canUpload, camera } = job;
  const spec = useStore(session.spec);
  const verdicts = useStore(session.verdicts);
  const threads = useStore(session.threads);
  const focus = useStore(session.focus);
  const { tiles, loading, trouble } = useTiles();
  const [nearOn, setNearOn] = useState(false);
  const near = useNearness(nearOn);
  const { looks } = near;
  const { aim, ...aiming } = useAim();
  const [looked, setLooked] = useState<{ readonly part: PartView; readonly at: Vec3 } | null>(null);
  const { meshes, looked: lookedMesh, trouble: partTrouble } = useMeshes(looked?.part ?? null);
  const parts = useStore(job.parts.list);
  const [hidden, setHidden] = useState<ReadonlySet<string>>(new Set());
  const [chosen, setChosen] = useState<string | null>(null);
  const [draft, setDraft] = useState<Anchor | null>(null);
  const [dialog, setDialog] = useState<'upload' | 'parts' | File | null>(null);
  const canvas = useRef<HTMLCanvasElement>(null);
  const labels = useRef<HTMLDivElement>(null);
  const scene = useRef<BayScene | null>(null);
  const pick = useRef<(hit: Hit | null) => void>(() => undefined);
  const [failed, setFailed] = useState<string | null>(null);

  const anchorOf = ({ at, runner }: Hit): Anchor => {
    const found = spec.runners.find((r) => r.id === runner);
    const line = found && runnerLine(found);
    const place = line && placeOnTube(line, at);
    return found && place
      ? { kind: 'runner', runner: found.id, share: place.share, angle: place.angle, at }
      : { kind: 'place', at };
  };
  pick.current = (hit) => {
    if (aim) {
      aiming.take(hit);
      return;
    }
    if (pinning) {
      if (hit) setDraft(anchorOf(hit));
      return;
    }
    setChosen(hit?.runner ?? null);
    if (hit?.runner) session.focus.set({ kind: 'runner', id: hit.runner });
  };

  useEffect(() => {
    if (!canvas.current || !labels.current) return;
    const { doc } = session.specDocument;
    try {
      const made = new BayScene(canvas.current, labels.current, {
        pick: (hit) => pick.current(hit),
        label: (id) => {
          const [kind, ...rest] = id.split(':');
          if (kind !== 't' && kind !== 'v') return;
          session.focus.set({ kind: kind === 't' ? 'thread' : 'verdict', id: rest.join(':') });
        },
        drag: {
          start: () => session.undo.stopCapturing(),
          move: ({ runner, node }, [x, y, z]) =>
            moveNode(doc, { runner, node }, { x: clean(x), y: clean(y), z: clean(z) }),
          end: () => session.undo.stopCapturing(),
        },
      });
      scene.current = made;
      window.slipjointHandles = () => made.handlePlaces();
      camera.set((at, mark) => made.picture(at, mark));
      return () => {
        camera.set(null);
        made.dispose();
        scene.current = null;
      };
    } catch (error) {
      setFailed(`The 3D view cannot start in this browser: ${String(error)}. Sheet, checks and gates work without it.`);
      return;
    }
  }, [session, camera]);

  const view = useMemo(() => {
    const at = looked && lookedMesh && { mesh: lookedMesh, at: looked.at };
    return bayView({
      ...{ spec, verdicts, threads, focus, chosenRunner: chosen, canEdit, tiles, looks, meshes, hidden, aimed: aim },
      looked: at,
    });
  }, [spec, verdicts, threads, focus, chosen, canEdit, tiles, looks, meshes, hidden, aim, looked, lookedMesh]);
  useEffect(() => scene.current?.update(view), [view]);
  useEffect(() => scene.current?.aimAtScan(aim !== null), [aim]);
  useEffect(() => {
    const watch = new MutationObserver(() => scene.current?.repaint());
    watch.observe(document.documentElement, { attributeFilter: ['data-theme'] });
    return () => watch.disconnect();
  }, []);
  useEffect(() => {
    if (focus?.kind === 'runner') setChosen(focus.id);
  }, [focus]);

  const show = (at: Vec3 | null): void => {
    if (at) scene.current?.lookAt(at);
  };
  const drop = fileDrop(canUpload && dialog === null, setDialog);
  const showPlace = (part: PartView, at: Vec3): void => {
    setDialog(null);
    setLooked({ part, at });
    show(at);
  };
  const focusPlace = (): Vec3 | null => {
    if (focus?.kind === 'thread') {
      const thread = threads.find((t) => t.id === focus.id);
      return thread ? pinPlace(thread, spec) : null;
    }
    const verdict = focus?.kind === 'verdict' ? verdicts.get(focus.id)?.verdict : undefined;
    return verdict && 'witness' in verdict && verdict.witness ? verdict.witness.at : null;
  };
  return (
    <section className={`bay${pinning || aim ? ' bay-pinning' : ''}`} aria-label="Bay: header over scan" {...drop}>
      <canvas
        ref={canvas}
        className="bay-canvas"
        aria-label="3D preview. Every pin and clash is also a row in the lists."
      />
      <div ref={labels} className="bay-labels" />
      {failed && (
        <p className="problem bay-failed" role="alert">
          {failed}
        </p>
      )}
      <ComponentToggles hidden={hidden} onChange={setHidden} loading={loading} trouble={trouble ?? partTrouble} />
      {nearOn && <NearnessLegend found={near} />}
      <div className="bay-foot">
        {!aim && <SentByOthers />}
        {dialog === null && !aim && <SendingChip onOpen={() => setDialog('upload')} />}
        {aiming.hint}
        {looked && (
          <p className="bay-hint bay-looked">
            {looked.part.name}, one place that is wrong.{' '}
            <button type="button" className="button" onClick={() => setLooked(null)}>
              Put it away
            </button>
          </p>
        )}
        {chosen && canEdit && !looked && !aim && (
          <p className="bay-hint">
            Drag a node of {spec.runners.find((r) => r.id === chosen)?.name ?? 'the runner'}. The checks follow.
          </p>
        )}
        <div className="bay-bar">
          {viewNames.map((name) => (
            <button key={name} type="button" className="button" onClick={() => scene.current?.look(name)}>
              {name}
            </button>
          ))}
          {focusPlace() && (
            <button type="button" className="button button-main" onClick={() => show(focusPlace())}>
              Show the place
            </button>
          )}
          {parts.length > 0 && (
            <button type="button" className="button" onClick={() => setDialog('parts')}>
              Parts ({parts.length})
            </button>
          )}
          {tiles.size > 0 && (
            <button
              type="button"
              className={`button${nearOn ? ' button-main' : ''}`}
              aria-pressed={nearOn}
              onClick={() => setNearOn(!nearOn)}
            >
              Show how near
            </button>
          )}
          {canUpload && (
            <button type="button" className="button" onClick={() => setDialog('upload')}>
              Bring a scan or part
            </button>
          )}
        </div>
      </div>
      {draft && (
        <NewMarkup
          onCancel={() => {
            setDraft(null);
            onPinned();
          }}
          onText={(text) => {
            const id = timeId();
            openThread(session.markupDocument.doc, { id, by: session.me, anchor: draft, text });
            setDraft(null);
            onPinned();
            session.focus.set({ kind: 'thread', id });
          }}
        />
      )}
      {dialog !== null && dialog !== 'parts' && (
        <UploadDialog
          dropped={dialog === 'upload' ? null : dialog}
          onClose={() => setDialog(null)}
          onShow={showPlace}
        />
      )}
      {dialog === 'parts' && <PartsDialog onClose={() => setDialog(null)} onShow={showPlace} />}
    </section>
  );
}
