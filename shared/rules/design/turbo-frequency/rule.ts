import { type FiringBand, firingBand, turboFirstMode } from '../../../quantities/firstMode.ts';
import { at, derive, type Known, known } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Room on either side of the firing band. */
const apart = 0.2;
/** How far the beam model can be above the real mode. */
const modelShare = 0.1;

/** First mode of the turbo on its runner roots, against the firing frequency in the run range. */
export const turboFrequency = defineRule({
  id: 'turbo-frequency',
  gate: 'design',
  title: 'Forbid a turbo that swings in step with the firing pulses',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'turbo', 'tube', 'engine', 'service', 'materials'],
  cost: 'cheap',
  quantity: 'frequency',
  limit: 'first mode 20 % clear of the firing frequency anywhere between lowest and highest running speed',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: '20 % apart; the mode is beam theory from memory (33/140 of the tube mass at the tip)',
  },
  validity:
    'A turbo without a brace on runner roots that share it evenly. Main firing frequency only: half orders and harmonics are not in it. Turbo inertia and flange give lower the real mode; 10 % is kept for them before a pass is called clear.',
  hazard: 'A turbo in resonance multiplies the load on its roots and cracks them within minutes of running there.',
  remedy: 'Brace the turbo, which takes it out of this check; or shorten the arm and stiffen the roots.',
  messages: { band: 'Firing at {low} to {high} in the run range.' },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    spec.runners.length === 0 ? [] : [{ kind: 'job', id: 'header', name: 'Turbo on its runner roots' }],
  reads: (context) => {
    const brace = at('turbo.brace', context.spec.turbo.brace);
    return {
      mode: derive(
        { brace },
        (v): Known<number | null> => (v.brace === 'none' ? turboFirstMode(context) : known(null)),
      ),
      band: derive(
        { brace },
        (v): Known<FiringBand | null> => (v.brace === 'none' ? firingBand(context) : known(null)),
      ),
    };
  },
  evaluate: ({ mode, band }) => {
    if (mode === null || band === null)
      return { status: 'notApplicable', because: 'the turbo is braced: it does not swing on its runner roots' };
    const above = band.high * (1 + apart);
    const below = band.low * (1 - apart);
    const overIt = mode - above >= below - mode;
    return judge(mode, {
      limit: overIt ? { kind: 'min', value: above } : { kind: 'max', value: below },
      guard: modelShare * mode,
      message: 'band',
      data: { low: band.low, high: band.high },
    });
  },
});
