import { type StudForces, studForces } from '../../../quantities/studForces.ts';
import { gasketLoads } from '../../../trade/clamp/gasket-loads.ts';
import { gasketMeanStress } from '../../../trade/clamp/gasket-mean-stress.ts';
import { gaskets } from '../../../trade/data/gaskets.ts';
import { at, derive, type Values } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Standard atmosphere, Pa. */
const atmosphere = 101325;

/** Mean stress on the port gaskets at both ends of the preload. */
export const gasketStress = defineRule({
  id: 'gasket-stress',
  gate: 'design',
  title: 'Require a gasket stress that seats the gasket and does not crush it',
  severity: 'block',
  adjustable: false,
  branches: ['gasket', 'stud', 'engine'],
  fields: { engine: ['exhaustPressure'] },
  cost: 'cheap',
  quantity: 'stress',
  limit: 'least preload less gas load >= seating stress of the gasket; greatest preload <= what the maker allows',
  source: {
    document: 'ASME BPVC VIII-1 appendix 2, table 2-5.1 (seating stress)',
    trust: 'excerpt',
    note: 'held against the mean over the whole ring, stricter than the effective width of the code; the greatest stress is as typed',
  },
  validity:
    'Flat round ring, studs that share evenly, whole gas load off the gasket. No leak rate follows from it: no published one was found for exhaust joints.',
  hazard: 'A gasket that does not seat blows hot gas at studs and lines; one that is crushed splits and then leaks.',
  remedy: 'Change torque, number of studs or ring width, or take a gasket with a lower seating stress.',
  messages: {
    seats: 'Least stud force {force:force}, gas load {gas:force} on the ring; governs: seating.',
    crushes: 'Greatest stud force {force:force} with {studs:count} studs on the ring; governs: crush.',
  },
  since: 1,
  subjects: (): readonly Subject[] => [{ kind: 'job', id: 'gasket', name: 'Port gaskets' }],
  reads: (context) => {
    const { gasket, engine } = context.spec;
    return {
      kind: at('gasket.kind', gasket.kind),
      insideDiameter: at<number>('gasket.insideDiameter', gasket.insideDiameter),
      outsideDiameter: at<number>('gasket.outsideDiameter', gasket.outsideDiameter),
      crush: at<number>('gasket.crush', gasket.crush),
      studs: at<number>('gasket.studs', gasket.studs),
      forces: studForces(context),
      pressure: at<number>('engine.exhaustPressure', engine.exhaustPressure),
    };
  },
  evaluate: ({ kind, forces, crush, pressure, studs, ...ring }) => {
    const { factor, seatingStress } = gaskets[kind];
    const gauge = Math.max(0, pressure - atmosphere);
    const found = stresses({ ...ring, factor, seatingStress, pressure: gauge }, forces, studs);
    if (!found.known) return { status: 'unknown', why: found.why };
    const { low, high, gas } = found.value;
    return low - seatingStress <= crush - high
      ? judge(low, { limit: { kind: 'min', value: seatingStress }, message: 'seats', data: { force: forces.low, gas } })
      : judge(high, { limit: { kind: 'max', value: crush }, message: 'crushes', data: { force: forces.high, studs } });
  },
});

/** Mean stress of the ring at the least force less the gas load, and at the greatest force; Pa, the gas load in N. */
function stresses(ring: Parameters<typeof gasketLoads>[0], forces: StudForces, studs: number) {
  const { insideDiameter, outsideDiameter } = ring;
  return derive({ loads: gasketLoads(ring) }, ({ loads: { endForce } }) => {
    const of = (clampForce: number) => gasketMeanStress.evaluate({ clampForce, insideDiameter, outsideDiameter });
    const both = { low: of(Math.max(0, studs * forces.low - endForce)), high: of(studs * forces.high) };
    return derive(both, (v): Values<typeof both> & { readonly gas: number } => ({ ...v, gas: endForce }));
  });
}
