import { describe, expect, it } from 'vitest';
import type { Thread } from '../../../shared/markup/markup.ts';
import { packRequestSchema, pictureBytes, pictureLimit } from '../../../shared/protocol/papers.ts';
import { takePictures } from './pictures.ts';

const thread = (n: number, state: Thread['state'] = 'open'): Thread => ({
  ...{ id: `t${n}`, by: 'a1', n, state, resolvedBy: null, comments: [] },
  anchor: { kind: 'place', at: [n, 0, 0] },
});
const placeOf = ({ anchor }: Thread) => anchor.at;

async function taken(threads: readonly Thread[], take: ((x: number, mark: string) => string | null) | null) {
  const told: string[] = [];
  const pictures = await takePictures({
    ...{ threads, placeOf },
    take: take && (([x], mark) => take(x, mark)),
    progress: async (done, of) => void told.push(`${done}/${of}`),
  });
  return { pictures, told };
}

describe('pictures of markups', () => {
  it('are taken at the pin of each, with its number, and told one by one', async () => {
    const seen: string[] = [];
    const { pictures, told } = await taken([thread(1), thread(2)], (x, mark) => {
      seen.push(`${x} ${mark}`);
      return 'data:image/jpeg;base64,aGVsbG8=';
    });
    expect(seen).toEqual(['1 1', '2 2']);
    expect(told).toEqual(['0/2', '1/2']);
    expect(packRequestSchema.parse({ pictures }).pictures.map((p) => p.thread)).toEqual(['t1', 't2']);
  });

  it('leave out resolved ones first when there are too many', async () => {
    const many = Array.from({ length: pictureLimit + 5 }, (_, i) => thread(i + 1, i < 10 ? 'resolved' : 'open'));
    const { pictures } = await taken(many, () => 'data:image/png;base64,aGVsbG8=');
    expect(pictures).toHaveLength(pictureLimit);
    expect(pictures.slice(-5).map((p) => p.thread)).toEqual(['t1', 't2', 't3', 't4', 't5']);
  });

  it('are left out where there is no view, none can be taken, or one is too large', async () => {
    const large = `data:image/png;base64,${'A'.repeat(pictureBytes * 2)}`;
    expect((await taken([thread(1)], null)).pictures).toEqual([]);
    expect((await taken([thread(1), thread(2)], (x) => (x === 1 ? null : large))).pictures).toEqual([]);
  });
});
