import type { OwnMaterial } from '../spec/spec.ts';
import { type AlloyKey, alloyKeys } from '../trade/data/alloys.ts';
import { type GradeKey, grades } from '../trade/data/material-limits.ts';
import { sourceWords } from '../trade/source.ts';
import { alloyProperty, alloyPropertySource } from '../trade/strength/alloy-property.ts';
import { at, derive, type Known, known, restingOn, unknown } from '../units/known.ts';
import type { FactContext } from './context.ts';
import { type OwnProperty, ownGround, ownMaterialProperty, ownName } from './ownMaterial.ts';

/** What a header part is made of: a listed alloy, or a metal the job brings itself. */
export type Metal =
  | { readonly kind: 'listed'; readonly key: AlloyKey }
  | { readonly kind: 'own'; readonly row: OwnMaterial };
/** The branch whose `alloy` field names the metal. */
export type MetalPart = 'tube' | 'flange';

/** Grade whose service limit stands for a header alloy; 625 is bought solution annealed for this. */
const gradeOf: Readonly<Record<AlloyKey, GradeKey>> = { '304': '304', '321': '321', '625': '625-solution' };

/**
 * The metal a part is made of; the one place where the id in an `alloy` field becomes figures. An own material has to say its source,
 * how far to trust it and why it is used (else missing); an id that nothing has, or that a listed alloy has too, is inconsistent.
 */
export function metalOf(context: FactContext, part: MetalPart): Known<Metal> {
  const { materials } = context.spec;
  const path = `${part}.alloy`;
  return derive({ id: at(path, context.spec[part].alloy) }, ({ id }): Known<Metal> => {
    const key = alloyKeys.find((one) => one === id);
    const row = materials.find((one) => one.id === id);
    if (key && row) {
      const detail = `expected own materials to have ids of their own, got one with the id of the listed alloy ${id}`;
      return unknown({ reason: 'inconsistent', detail, paths: [path, `materials.${id}`] });
    }
    if (key) return known({ kind: 'listed', key });
    if (row)
      return derive({ ground: ownGround(row) }, ({ ground }) => restingOn(known({ kind: 'own', row }), [ground]));
    // Names no own material: whoever keeps this looks at the one of this id only.
    const detail = `expected one of ${alloyKeys.join(', ')} or an own material of the job, got ${id}`;
    return unknown({ reason: 'inconsistent', detail, paths: [path] });
  });
}

/** Property of the metal of a part (SI: 1/K, Pa, kg/m3, W/(m.K)) at `temperature` (K); outside its table: outside validity. */
export function metalProperty(
  context: FactContext,
  part: MetalPart,
  property: OwnProperty,
  temperature: Known<number>,
): Known<number> {
  return derive({ metal: metalOf(context, part), temperature }, (v) =>
    v.metal.kind === 'own'
      ? ownMaterialProperty(v.metal.row, property, v.temperature)
      : alloyProperty(v.metal.key, property, v.temperature),
  );
}

/** Where the yield of the metal of a part comes from, in words: `yield of 625: ...`. */
export function yieldSource(context: FactContext, part: MetalPart): Known<string> {
  return derive({ metal: metalOf(context, part) }, ({ metal }) =>
    metal.kind === 'own'
      ? derive({ ground: ownGround(metal.row) }, ({ ground }) => `yield of ${ground.name}: ${ground.source}`)
      : `yield of ${metal.key}: ${sourceWords(alloyPropertySource(metal.key, 'yield'))}`,
  );
}

/** Temperature above which oxidation forbids long service of the metal of a part, K: not a strength. */
export function serviceLimit(context: FactContext, part: MetalPart): Known<number> {
  return derive({ metal: metalOf(context, part) }, ({ metal }) =>
    metal.kind === 'own'
      ? at<number>(`materials.${metal.row.id}.serviceLimit`, metal.row.serviceLimit)
      : grades[gradeOf[metal.key]].serviceLimit,
  );
}

/** What the metal of a part is called. */
export function metalName(context: FactContext, part: MetalPart): Known<string> {
  return derive({ metal: metalOf(context, part) }, ({ metal }) =>
    metal.kind === 'own' ? ownName(metal.row) : metal.key,
  );
}

/** The own material a part names, for the memory of what is derived from it; undefined for a listed alloy or none. */
export function ownMaterialOf(context: FactContext, part: MetalPart): OwnMaterial | undefined {
  return context.spec.materials.find((one) => one.id === context.spec[part].alloy);
}
