import { isFabricated, stockUses } from '../../../quantities/cutPieces.ts';
import { defineRule } from '../../define.ts';
import { judge } from '../../outcome.ts';
import type { Subject } from '../../verdict.ts';

/** Tube and bends on the shelf against what all runners need, saw cuts counted. */
export const stockCoversCuts = defineRule({
  id: 'stock-covers-cuts',
  gate: 'cut-release',
  title: 'Require enough stock on the shelf for every cut',
  severity: 'block',
  adjustable: false,
  branches: ['runners', 'cutting', 'stockBends', 'route'],
  cost: 'cheap',
  quantity: 'share',
  limit: 'stock pieces needed, with saw cuts / stock pieces on the shelf <= 100 %, for the scarcest kind',
  source: { document: 'own: cutting plan by search, checked on published instances', trust: 'own' },
  validity:
    'Straights and bends of the runners; collector and spares are not in it. Bends lose the saw cut at the centreline. Where the search runs long a quick plan stands, which may ask for one piece too many.',
  hazard: 'Stock that runs out in the middle of the cutting is replaced by what is at hand, of another alloy or wall.',
  remedy: 'Order more stock, or longer lengths.',
  messages: { scarcest: 'Scarcest: {stock}, {needed:count} of {there:count}, {pieces:count} pieces to cut from it.' },
  since: 1,
  subjects: (spec): readonly Subject[] =>
    isFabricated(spec) && spec.runners.length > 0 ? [{ kind: 'job', id: 'stock', name: 'Stock on the shelf' }] : [],
  reads: (context) => ({ uses: stockUses(context) }),
  evaluate: ({ uses }) => {
    const scarcest = uses.reduce((a, b) => (a.needed / a.there >= b.needed / b.there ? a : b));
    return judge(scarcest.needed / scarcest.there, {
      limit: { kind: 'max', value: 1 },
      message: 'scarcest',
      data: { ...scarcest },
    });
  },
});
