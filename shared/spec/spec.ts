import type { FieldGroup, GroupValues } from './field.ts';
import type { collections, groups, tables } from './fields.ts';

/** Name of a branch that exists once. */
export type GroupKey = keyof typeof groups;
/** Name of a branch with rows. */
export type CollectionKey = keyof typeof collections;

/** A row of a collection: its id is stable, its order decides where it is shown. */
export type Element<K extends CollectionKey> = GroupValues<(typeof collections)[K]> & {
  readonly id: string;
  readonly order: number;
};
type Row<F extends FieldGroup> = GroupValues<F> & { readonly id: string; readonly order: number };
/** One corner of a runner's centreline. */
export type RunnerNode = Row<(typeof tables)['runners']['nodes']>;
/** A runner with its centreline nodes in order. */
export type Runner = Element<'runners'> & { readonly nodes: readonly RunnerNode[] };
/** A metal this job brings itself, with its tables. */
export type OwnMaterial = Element<'materials'> & {
  readonly points: readonly Row<(typeof tables)['materials']['points']>[];
  readonly ruptures: readonly Row<(typeof tables)['materials']['ruptures']>[];
};
/** A limit set for this job; its id is that of the rule. */
export type JobLimit = Element<'limits'>;
/** A named thing in the scan with a heat class. */
export type BayComponent = Element<'components'>;
/** A hole of the head flange. */
export type StudHole = Element<'holes'>;
/** A weld between two pieces. */
/** A space filled with shielding gas before and while welding. */

/** One ticked checklist item. `by` is the account id the server checked against the connection. */
export interface Tick {
  readonly done: boolean;
  readonly note: string;
  readonly by: string;
  /** SHA-256 of photos that show it, 64 hex digits each, at most 8; absent: none. */
  readonly photos?: readonly string[];
}
/** Ticks by `gate.item`. */
export type Ticks = Readonly<Record<string, Tick>>;

type Groups = { readonly [K in GroupKey]: GroupValues<(typeof groups)[K]> };
type Lists = { readonly [K in Exclude<CollectionKey, keyof typeof tables>]: readonly Element<K>[] };

/** The authored description of the header: immutable; a branch that did not change keeps its identity. */
export interface Spec extends Groups, Lists {
  readonly runners: readonly Runner[];
  readonly materials: readonly OwnMaterial[];
  readonly ticks: Ticks;
  /** Names given twice within a collection, as `collection: name`. Rules about those elements still run. */
  readonly duplicates: readonly string[];
}
/** A top-level branch of the spec, what a rule declares that it reads. */
export type Branch = GroupKey | CollectionKey | 'ticks';
