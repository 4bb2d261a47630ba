import { expect, it } from 'vitest';
import { fitProblem, type ScanFit, scanFitSchema, scanFitWishSchema } from './scanFit.ts';

const left = (rms: number) => ({ rms, size95: 2 * rms });
const fit: ScanFit = {
  ...{ before: left(2e-3), after: left(1e-4), shift: 3e-3, compared: 900, overlap: 0.4, settled: true },
};

it('takes a fit that came to rest and leaves less', () => {
  expect(scanFitSchema.parse(fit)).toEqual(fit);
  expect(fitProblem(fit)).toBeNull();
});

it.each<[Partial<ScanFit>, RegExp]>([
  [{ settled: false }, /did not come to rest/],
  [{ after: left(2e-3) }, /no less than there was before/],
  [{ after: left(3e-3) }, /no less than there was before/],
])('says why %j is of no use', (part, words) => {
  expect(fitProblem({ ...fit, ...part })).toMatch(words);
  expect(fitProblem({ ...fit, ...part })).toMatch(/overlap too little/);
});

it.each([{}, { component: 'a' }, { component: 'a', onto: '' }, { component: 'a', onto: 'b', more: 1 }])(
  'takes no wish like %j',
  (wish) => expect(scanFitWishSchema.safeParse(wish).success).toBe(false),
);
