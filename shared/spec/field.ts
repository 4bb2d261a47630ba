import type { QuantityKey } from '../units/quantities.ts';
import type { Si } from '../units/si.ts';

interface Common {
  /** Shown beside the field. */
  readonly label: string;
  /** One sentence for the person filling it in. */
  readonly help: string;
}
/** A number with a quantity; bounds are closed, SI. */
export interface QuantityField<Q extends QuantityKey = QuantityKey> extends Common {
  readonly kind: 'quantity';
  readonly quantity: Q;
  readonly min: number;
  readonly max: number;
}
/** A whole number. */
export interface IntegerField extends Common {
  readonly kind: 'integer';
  readonly min: number;
  readonly max: number;
}
/** One of a fixed list. */
export interface ChoiceField<O extends string = string> extends Common {
  readonly kind: 'choice';
  readonly options: readonly O[];
}
/** A line of text. */
export interface TextField extends Common {
  readonly kind: 'text';
  readonly maxLength: number;
}
/** A sequence of whole numbers written `1-2-4-5-3`. */
export interface SequenceField extends Common {
  readonly kind: 'sequence';
  readonly min: number;
  readonly max: number;
  readonly maxLength: number;
}
/** A plain SI number whose quantity the spec does not know: the rule it is a limit of decides that. What is no finite number reads as NaN, not as empty. */
export interface NumberField extends Common {
  readonly kind: 'number';
}
/** A metal: one of the fixed list, or the id of a row of `materials`. Whether that row is there is for the reader of the value to find out. */
export interface MaterialField extends Common {
  readonly kind: 'material';
  readonly options: readonly string[];
}
/** A row of the field table. */
export type Field =
  | QuantityField
  | IntegerField
  | ChoiceField
  | TextField
  | SequenceField
  | NumberField
  | MaterialField;

/** The value a field holds when it is present and valid. */
export type ValueOf<F> =
  F extends QuantityField<infer Q>
    ? Si<Q>
    : F extends IntegerField
      ? number
      : F extends ChoiceField<infer O>
        ? O
        : F extends TextField
          ? string
          : F extends SequenceField
            ? readonly number[]
            : F extends NumberField
              ? number
              : F extends MaterialField
                ? string
                : never;

/** Fields of one branch, by key. */
export type FieldGroup = Readonly<Record<string, Field>>;
/** The values of a group; an empty or invalid field reads as undefined. */
export type GroupValues<G extends FieldGroup> = { readonly [K in keyof G]: ValueOf<G[K]> | undefined };

/** A quantity row. */
export function quantity<Q extends QuantityKey>(
  key: Q,
  label: string,
  bounds: readonly [number, number],
  help: string,
): QuantityField<Q> {
  return { kind: 'quantity', quantity: key, label, min: bounds[0], max: bounds[1], help };
}
/** A whole-number row. */
export function integer(label: string, bounds: readonly [number, number], help: string): IntegerField {
  return { kind: 'integer', label, min: bounds[0], max: bounds[1], help };
}
/** A choice row. */
export function choice<const O extends string>(label: string, options: readonly O[], help: string): ChoiceField<O> {
  return { kind: 'choice', label, options, help };
}
/** A text row. */
export function text(label: string, maxLength: number, help: string): TextField {
  return { kind: 'text', label, maxLength, help };
}
/** A sequence row. */
export function sequence(
  label: string,
  bounds: readonly [number, number],
  maxLength: number,
  help: string,
): SequenceField {
  return { kind: 'sequence', label, min: bounds[0], max: bounds[1], maxLength, help };
}
/** A row for a number in SI of a quantity that is not known here. */
export function plainNumber(label: string, help: string): NumberField {
  return { kind: 'number', label, help };
}
/** A row that names a metal. */
export function material(label: string, options: readonly string[], help: string): MaterialField {
  return { kind: 'material', label, options, help };
}
