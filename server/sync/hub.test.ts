import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LiveServer, liveServer } from '../../tests/support/live.ts';

let live: LiveServer;
beforeAll(async () => {
  live = await liveServer();
});
afterAll(() => live.close());

describe('document socket', () => {
  it('passes an edit on and acknowledges it', async () => {
    const project = await live.project({ ann: ['lead'], bob: ['designer'] });
    const a = live.document(await live.person('ann'), project);
    const b = live.document(await live.person('bob'), project);
    await Promise.all([a.synced(), b.synced()]);
    const edit = a.set('stud.torque', 21);
    await a.kept();
    await live.signal.until(() => b.map.get('stud.torque') === 21, 'the edit at the other client');
    expect(a.acknowledged.has(edit)).toBe(true);
  });
});
