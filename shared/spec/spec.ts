import type { GroupValues } from './field.ts';
import type { collections, groups, nodeFields } from './fields.ts';

/** Name of a branch that exists once. */
export type GroupKey = keyof typeof groups;
/** Name of a branch with rows. */
export type CollectionKey = keyof typeof collections;

/** A row of a collection: its id is stable, its order decides where it is shown. */
export type Element<K extends CollectionKey> = GroupValues<(typeof collections)[K]> & {
  readonly id: string;
  readonly order: number;
};
/** One corner of a runner's centreline. */
export type RunnerNode = GroupValues<typeof nodeFields> & { readonly id: string; readonly order: number };
/** A runner with its centreline nodes in order. */
export type Runner = Element<'runners'> & { readonly nodes: readonly RunnerNode[] };
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
}
/** Ticks by `gate.item`. */
export type Ticks = Readonly<Record<string, Tick>>;

type Groups = { readonly [K in GroupKey]: GroupValues<(typeof groups)[K]> };
type Lists = { readonly [K in Exclude<CollectionKey, 'runners'>]: readonly Element<K>[] };

/** The authored description of the header: immutable; a branch that did not change keeps its identity. */
export interface Spec extends Groups, Lists {
  readonly runners: readonly Runner[];
  readonly ticks: Ticks;
  /** Names given twice within a collection, as `collection: name`. Rules about those elements still run. */
  readonly duplicates: readonly string[];
}
/** A top-level branch of the spec, what a rule declares that it reads. */
export type Branch = GroupKey | CollectionKey | 'ticks';
