import { jobKey, type MeasureJob, type MeasureResult } from '../../shared/geometry/measurement.ts';
import { type Known, known, unknown } from '../../shared/units/known.ts';
import type { MeasureService, MeasureState } from '../measure/service.ts';
import type { RoomMeasurements } from './room.ts';

/** Names of jobs; a job stays the same object while what it is made of stays as it is: hashing all of them at every edit costs more than the rules. */
const names = new WeakMap<MeasureJob, string>();

function nameOf(job: MeasureJob): string {
  const name = names.get(job) ?? jobKey(job);
  names.set(job, name);
  return name;
}

/** Shares one measuring service between rooms: a job lives as long as some room still asks for it. */
export class MeasurementDesk {
  private readonly service: MeasureService;
  private readonly wanted = new Map<object, ReadonlySet<string>>();
  /** What a person asked for and waits to be told. */
  private readonly questions = new Set<string>();

  constructor(service: MeasureService) {
    this.service = service;
    service.onResult((key) => this.questions.delete(key));
  }

  /** Where a job stands that no rule but a person asks for; started when it is new, and not dropped before it is answered. */
  readonly ask = <J extends MeasureJob>(job: J): MeasureState<J['kind']> => {
    const state = this.service.request(job);
    if (state.state === 'waiting') this.questions.add(jobKey(job));
    return state;
  };

  /** A room's view of the service; `arrived` is called when something it asked for is there. */
  open(arrived: () => void): RoomMeasurements {
    const room = {};
    let asked = new Set<string>();
    let current: ReadonlySet<string> = asked;
    const stop = this.service.onResult((key) => {
      if (current.has(key) || asked.has(key)) arrived();
    });
    return {
      measure: (job) => {
        const name = nameOf(job);
        asked.add(name);
        return this.measured(name, job);
      },
      settle: (waited) => {
        if (asked.size + current.size === 0) return;
        // An edit runs only the rules that read it; what the others wait for is wanted as much.
        current = new Set(waited());
        asked = new Set();
        this.wanted.set(room, current);
        this.drop();
      },
      close: () => {
        stop();
        this.wanted.delete(room);
        this.drop();
      },
    };
  }

  private measured<J extends MeasureJob>(name: string, job: J): Known<MeasureResult<J['kind']>> {
    const state = this.service.lookup<J['kind']>(name) ?? this.service.request(job);
    switch (state.state) {
      case 'done':
        return known(state.result);
      case 'waiting':
        return unknown({ reason: 'pending', job: name });
      case 'failed':
        return unknown({ reason: 'inconsistent', detail: state.problem.message, paths: [] });
    }
  }

  private drop(): void {
    const all = new Set(this.questions);
    for (const keys of this.wanted.values()) for (const key of keys) all.add(key);
    this.service.keepOnly(all);
  }
}
