import type { BayComponent, CollectionKey, Element, Runner, Spec } from '../spec/spec.ts';
import type { Subject } from './verdict.ts';

/** A subject that carries the runner it is about. */
export interface RunnerSubject extends Subject {
  readonly runner: Runner;
}

/** One subject for each runner, named as the spec names it. */
export function runnerSubjects(spec: Spec): readonly RunnerSubject[] {
  return spec.runners.map((runner) => ({ kind: 'runner', id: runner.id, name: nameOf(runner), runner }));
}

/** A subject that carries the bay component it is about. */
export interface ComponentSubject extends Subject {
  readonly component: BayComponent;
}

/** One subject for each bay component. */
export function componentSubjects(spec: Spec): readonly ComponentSubject[] {
  return spec.components.map((component) => ({
    kind: 'component',
    id: component.id,
    name: nameOf(component),
    component,
  }));
}

/** The name a person gave a row, or its id. */
export function nameOf(row: { readonly id: string; readonly name: string | undefined }): string {
  return row.name ?? row.id;
}

/** A subject that carries the row it is about. */
export interface RowSubject<K extends Exclude<CollectionKey, 'runners'>> extends Subject {
  readonly row: Element<K>;
}
