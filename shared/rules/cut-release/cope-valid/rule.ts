import { isFabricated } from '../../../quantities/cutPieces.ts';
import type { Spec } from '../../../spec/spec.ts';
import { copeTemplate } from '../../../trade/tube/cope.ts';
import { at } from '../../../units/known.ts';
import { defineRule } from '../../define.ts';
import { judge, type Outcome } from '../../outcome.ts';
import { nameOf, type RowSubject } from '../../subjects.ts';

/** Rows of the template that is tried. */
const points = 72;
/** Paper beyond the outline on each side, m. */
const margin = 5e-3;

/** Whether a cope can be cut and its paper template fits the sheet. */
export const copeValid = defineRule({
  id: 'cope-valid',
  gate: 'cut-release',
  title: 'Require copes that can be cut and printed on the sheet at hand',
  severity: 'block',
  adjustable: false,
  branches: ['copes', 'cutting', 'tube', 'route'],
  cost: 'cheap',
  quantity: 'length',
  limit: 'offset + branch radius <= main radius; template with 5 mm round it within the sheet, either way up',
  source: { document: 'own: intersection of two cylinders, checked by rays', trust: 'own' },
  validity:
    'Round tubes that meet at 6 to 90 deg; square-walled cut where inner or outer wall governs. Paper thickness is not in it.',
  hazard:
    'A cope past the side of the main tube leaves a hole that weld cannot bridge; a template cut off by the printer misleads the saw.',
  remedy: 'Move the branch towards the axis, take a larger main tube, or a larger sheet.',
  messages: {
    meets: 'Governs: offset and branch radius within the main radius.',
    sheet: 'Governs: length of the template on its sheet, {across} across.',
    across: 'Governs: width of the template on its sheet, {along} along.',
  },
  since: 1,
  subjects: (spec: Spec): readonly RowSubject<'copes'>[] =>
    isFabricated(spec) ? spec.copes.map((row) => ({ kind: 'joint', id: row.id, name: nameOf(row), row })) : [],
  reads: (context, { row }) => {
    const path = `copes.${row.id}`;
    const { tube, cutting } = context.spec;
    return {
      mainDiameter: at<number>(`${path}.mainDiameter`, row.mainDiameter),
      angle: at<number>(`${path}.angle`, row.angle),
      offset: at<number>(`${path}.offset`, row.offset),
      outsideDiameter: at<number>('tube.outsideDiameter', tube.outsideDiameter),
      wall: at<number>('tube.wall', tube.wall),
      sheetLength: at<number>('cutting.sheetLength', cutting.sheetLength),
      sheetWidth: at<number>('cutting.sheetWidth', cutting.sheetWidth),
    };
  },
  evaluate: ({ mainDiameter, angle, offset, outsideDiameter, wall, ...sheet }) => {
    const outerRadius = outsideDiameter / 2;
    const mainRadius = mainDiameter / 2;
    const meets = judge(Math.abs(offset) + outerRadius, {
      limit: { kind: 'max', value: mainRadius },
      message: 'meets',
    });
    if (meets.status === 'fail') return meets;
    const cope = { mainRadius, outerRadius, innerRadius: outerRadius - wall, angle, offset };
    const template = copeTemplate(cope, points);
    if (!template.known) return { status: 'unknown', why: template.why };
    const along = 2 * Math.PI * outerRadius + 2 * margin;
    const across = Math.max(...template.value.map(([, height]) => height)) + 2 * margin;
    return onSheet({ along, across }, sheet);
  },
});

interface Paper {
  readonly sheetLength: number;
  readonly sheetWidth: number;
}

/** The longer side of the template goes on the longer side of the sheet; the side with less room speaks. */
function onSheet(template: { readonly along: number; readonly across: number }, paper: Paper): Outcome {
  const [long, short] = [Math.max(template.along, template.across), Math.min(template.along, template.across)];
  const [length, width] = [
    Math.max(paper.sheetLength, paper.sheetWidth),
    Math.min(paper.sheetLength, paper.sheetWidth),
  ];
  return length - long <= width - short
    ? judge(long, { limit: { kind: 'max', value: length }, message: 'sheet', data: { across: short } })
    : judge(short, { limit: { kind: 'max', value: width }, message: 'across', data: { along: long } });
}
