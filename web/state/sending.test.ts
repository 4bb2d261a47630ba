import type { UploadOptions } from 'tus-js-client';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { openSendingDesk, type Sending, toldToOthers, type UploadFault } from './sending.ts';

const file = { name: 'bay.ply', size: 100, lastModified: 5 } as File;
const sending: Sending<{ points: number }> = {
  ...{ project: 'p', file, unit: 'mm', use: 'scan' },
  schema: z.object({ points: z.number() }),
};
const problem = { code: 'empty-file', title: 'Empty file', detail: 'nothing was uploaded', came: '0 bytes' };

/** A desk whose uploads are played by the test. */
function played(result: unknown = null) {
  const seen = { starts: 0, aborts: 0, waits: [] as number[], asked: [] as string[], resumed: 0 };
  let [options, awake]: [UploadOptions, () => void] = [{}, () => undefined];
  let begun: () => void = () => undefined;
  const starting = new Promise<void>((resolve) => {
    begun = resolve;
  });
  const desk = openSendingDesk({
    upload: (_, given) => {
      options = given;
      return {
        url: '/api/uploads/one',
        start: () => {
          seen.starts++;
          begun();
        },
        abort: async () => void seen.aborts++,
        findPreviousUploads: async () => [],
        resumeFromPreviousUpload: () => void seen.resumed++,
      };
    },
    fetch: async (path) => {
      seen.asked.push(path);
      return { json: async () => result };
    },
    begun: async () => [
      { metadata: { project: 'p', filename: 'bay.ply' }, creationTime: '2026-03-01T10:00:00Z' },
      { metadata: { project: 'p', filename: 'bay.ply' }, creationTime: '2026-03-02T10:00:00Z' },
      { metadata: { project: 'p', filename: 'old.ply' }, creationTime: '2026-02-20T10:00:00Z' },
      { metadata: { project: 'q', filename: 'other.ply' }, creationTime: '2026-03-02T10:00:00Z' },
    ],
    now: () => Date.parse('2026-03-03T10:00:00Z'),
    later: (ms, act) => {
      seen.waits.push(ms);
      awake = act;
      return () => {
        awake = () => undefined;
      };
    },
  });
  const fault = (status: number, body = ''): UploadFault =>
    Object.assign(new Error('tus: words for programmers'), {
      originalResponse: status === 0 ? null : { getStatus: () => status, getBody: () => body },
    });
  return {
    ...{ desk, seen, starting },
    options: () => options,
    fail: (status: number, body?: string) => options.onError?.(fault(status, body)),
    wake: () => awake(),
  };
}

describe('sending a file', () => {
  test('a link that is down is waited for, however long, and goes on where it was', async () => {
    const { desk, seen, starting, options, fail, wake } = played();
    desk.start(sending, ({ points }) => `${points} points`);
    await starting;
    options().onProgress?.(40, 100);
    for (let i = 0; i < 6; i++) {
      fail(0);
      expect(desk.stand.get()).toEqual({ phase: 'waiting', name: 'bay.ply', sent: 40, total: 100 });
      wake();
    }
    expect(seen.starts).toBe(7);
    expect(seen.waits).toEqual([300, 1500, 4000, 8000, 8000, 8000]);
    options().onProgress?.(60, 100);
    expect(desk.stand.get()?.phase).toBe('sending');
    options().onChunkComplete?.(20, 60, 100);
    fail(423);
    expect(seen.waits.at(-1)).toBe(300);
  });

  test('what the server refuses is told in its words, as sentences', async () => {
    const { desk, starting, fail } = played();
    desk.start(sending, () => '');
    await starting;
    fail(422, JSON.stringify(problem));
    expect(desk.stand.get()).toEqual({
      ...{ phase: 'failed', name: 'bay.ply' },
      words: 'Nothing was uploaded. Got 0 bytes.',
    });
    desk.putAway();
    expect(desk.stand.get()).toBeNull();
  });

  test('an answer that is none of ours never shows the words of a library', async () => {
    const { desk, starting, fail } = played();
    desk.start(sending, () => '');
    await starting;
    fail(500, '<html>');
    expect(desk.stand.get()).toMatchObject({ phase: 'failed', words: expect.stringMatching(/answer 500.*goes on/) });
  });

  test('the answer to the last bytes is asked for when it was lost on the way', async () => {
    const { desk, seen, starting, options } = played({ points: 7 });
    const kept = new Promise<void>((resolve) => {
      desk.start(sending, ({ points }) => {
        resolve();
        return `${points} points`;
      });
    });
    await starting;
    options().onProgress?.(100, 100);
    expect(desk.stand.get()?.phase).toBe('reading');
    options().onSuccess?.({ lastResponse: { getStatus: () => 200 } as never });
    await kept;
    expect(seen.asked).toEqual(['/api/uploads/one/result']);
    expect(desk.stand.get()).toEqual({ phase: 'kept', name: 'bay.ply', words: '7 points' });
  });

  test('a refusal found when asking for the lost answer is told', async () => {
    const { desk, starting, options } = played(problem);
    desk.start(sending, () => '');
    await starting;
    const told = new Promise<void>((resolve) => {
      desk.stand.subscribe(() => resolve());
    });
    options().onSuccess?.({ lastResponse: { getStatus: () => 200 } as never });
    await told;
    expect(desk.stand.get()).toMatchObject({ phase: 'failed', words: 'Nothing was uploaded. Got 0 bytes.' });
  });

  test('files this browser has not sent to their end are named, once each, while the server keeps them', async () => {
    expect(await played().desk.unfinished('p')).toEqual(['bay.ply']);
  });

  test('a stopped one is let go of and says nothing more', async () => {
    const { desk, seen, starting, options, fail } = played();
    desk.start(sending, () => '');
    await starting;
    desk.stop();
    options().onProgress?.(50, 100);
    fail(422, JSON.stringify(problem));
    expect(desk.stand.get()).toBeNull();
    expect(seen.aborts).toBe(1);
  });
});

test('the others are told in few steps, and nothing once it has ended', () => {
  const at = (sent: number) => toldToOthers({ phase: 'sending', name: 'bay.ply', sent, total: 1000 });
  expect([0, 49, 50, 999, 1000].map(at)).toEqual([0, 0, 5, 95, 100].map((share) => `bay.ply, ${share} %`));
  expect(toldToOthers({ phase: 'reading', name: 'bay.ply', sent: 1, total: 1 })).toBe('bay.ply, which is being read');
  expect(toldToOthers({ phase: 'kept', name: 'bay.ply', words: 'read' })).toBeNull();
  expect(toldToOthers(null)).toBeNull();
});
