import { registration } from '../../../quantities/registration.ts';
import { formatSi } from '../../../units/format.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';

/** Points below which one bad one cannot be told from a good fit. */
const fewest = 4;
const limit = 0.5e-3;
/** With four points, one bad one turns the fit by three times what it leaves as residual. */
const mostShift = 3 * limit;

/** How well the datum points of the scan fit those measured on the car. */
export const scanRegistration = defineRule({
  id: 'scan-registration',
  gate: 'scan',
  title: 'Limit the residual of the scan at its datum points',
  severity: 'block',
  adjustable: 'max',
  branches: ['datums', 'components'],
  cost: 'cheap',
  quantity: 'length',
  limit: '95th percentile of the distances left by the best rigid motion <= 0.5 mm',
  source: {
    document: 'common practice, no source',
    trust: 'practice',
    note: 'closed-form rigid fit after Horn 1987 and Umeyama 1991, from memory; no scale is ever fitted',
  },
  validity:
    'At least four datum points, not in one line, spread around the header. A scan that is not placed by them has to lie on the car already: what the fit would move it by is at most 1.5 mm.',
  hazard: 'A scan that lies askew puts every component in the wrong place: all clearances are wrong by as much.',
  remedy:
    'Pick the worst point again and measure it again on the car; place every scan by its datum points, or align it and bring it in again.',
  messages: {
    fit: '{count:count} points; worst {worst} with {largest}; the fit moves a scan by {shift}; a free scale would be {scale:ratio}.',
  },
  since: 2,
  subjects: () => [{ kind: 'job', id: 'scan', name: 'Scan on the car' }],
  reads: (context) => ({
    // Too few points are told as such, before the fit complains.
    count: { known: true, value: context.spec.datums.length } as const,
    // A scan that the fit moves onto the car may lie anywhere in its file.
    unplaced: {
      known: true,
      value: context.spec.components.some(({ placed }) => placed !== 'by-datums'),
    } as const,
    fit: context.spec.datums.length < fewest ? ({ known: true, value: null } as const) : registration(context),
  }),
  evaluate: ({ count, unplaced, fit }): Outcome => {
    if (fit === null) {
      const range: readonly [number, number] = [fewest, 1000];
      return {
        status: 'unknown',
        why: { reason: 'outOfValidity', input: 'datum points', value: count, range, unit: 'count' },
      };
    }
    const { residual, worst, worstAt, worstResidual, shift, scale } = fit;
    if (unplaced && residual <= limit && shift > mostShift) {
      const detail = `expected a scan that lies on the car (within ${formatSi('length', mostShift)} at its datum points), the fit moves it by ${formatSi('length', shift)}: place it by datums, or align it and bring it in again`;
      return { status: 'unknown', why: { reason: 'inconsistent', detail, paths: ['datums'] } };
    }
    return judge(residual, {
      limit: { kind: 'max', value: limit },
      message: 'fit',
      data: { count, worst, largest: worstResidual, shift, scale },
      witness: { at: worstAt },
    });
  },
});
