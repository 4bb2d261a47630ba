import { type ClearanceJob, type ClearanceResult, jobKey } from '../../shared/geometry/measurement.ts';
import { type Known, known, unknown } from '../../shared/units/known.ts';
import type { MeasureService } from '../measure/service.ts';
import type { RoomMeasurements } from './room.ts';

/** Names of jobs by their node table, which stays the same object while a runner stays as it is: hashing all of them at every edit costs more than the rules. */
const names = new WeakMap<ClearanceJob['nodes'], Map<string, string>>();

function nameOf(job: ClearanceJob): string {
  const { nodes, scan, outerRadius, fromS } = job;
  const known = names.get(nodes) ?? new Map<string, string>();
  names.set(nodes, known);
  const rest = `${scan} ${outerRadius} ${fromS}`;
  const name = known.get(rest) ?? jobKey(job);
  // Few at a time: a bound for a node table that outlives many other changes.
  if (known.size > 200) known.clear();
  known.set(rest, name);
  return name;
}

/** Shares one measuring service between rooms: a job lives as long as some room still asks for it. */
export class MeasurementDesk {
  private readonly service: MeasureService;
  private readonly wanted = new Map<object, ReadonlySet<string>>();

  constructor(service: MeasureService) {
    this.service = service;
  }

  /** A room's view of the service; `arrived` is called when something it asked for is there. */
  open(arrived: () => void): RoomMeasurements {
    const room = {};
    let asked = new Set<string>();
    let current: ReadonlySet<string> = asked;
    const stop = this.service.onResult((key) => {
      if (current.has(key) || asked.has(key)) arrived();
    });
    return {
      clearance: (job) => {
        const name = nameOf(job);
        asked.add(name);
        return this.clearance(name, job);
      },
      settle: () => {
        // Nothing asked: no measured rule ran in this turn, so what was wanted still is.
        if (asked.size === 0) return;
        current = asked;
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

  private clearance(name: string, job: ClearanceJob): Known<ClearanceResult> {
    const state = this.service.lookup(name) ?? this.service.request(job);
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
    const all = new Set<string>();
    for (const keys of this.wanted.values()) for (const key of keys) all.add(key);
    this.service.keepOnly(all);
  }
}
