import { type ClearanceJob, type ClearanceResult, jobKey } from '../../shared/geometry/measurement.ts';
import { type Known, known, unknown } from '../../shared/units/known.ts';
import type { MeasureService } from '../measure/service.ts';
import type { RoomMeasurements } from './room.ts';

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
        asked.add(jobKey(job));
        return this.clearance(job);
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

  private clearance(job: ClearanceJob): Known<ClearanceResult> {
    const state = this.service.request(job);
    switch (state.state) {
      case 'done':
        return known(state.result);
      case 'waiting':
        return unknown({ reason: 'pending', job: jobKey(job) });
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
