import { createHash } from 'node:crypto';
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { Upload, type UploadOptions } from 'tus-js-client';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { tilesOf } from '../../shared/geometry/tiles.ts';
import { scanListSchema, uploadResultSchema } from '../../shared/protocol/http.ts';
import type { Role } from '../../shared/protocol/roles.ts';
import { tileIndexSchema } from '../../shared/protocol/tiles.ts';
import { type TestServer, testServer, type Visitor } from '../../tests/support/http-server.ts';
import { codecReady, decodeTile } from '../../web/tiles/decode.ts';

const text = '0 0 0\n1000 0 0\n0 2000 500\n';
const sha256 = createHash('sha256').update(text).digest('hex');
const base64 = (value: string) => Buffer.from(value).toString('base64');

let server: TestServer;
let project: string;
let scanner: Visitor;
let fail: boolean;
beforeEach(async () => {
  fail = false;
  const beforeRead = () => {
    if (fail) throw new Error('the reader broke');
  };
  server = await testServer({ beforeRead });
  project = await server.project({ lead: ['lead'], scan: ['scanner'], rev: ['reviewer'] });
  scanner = (await server.person('scan')).visitor;
});
afterEach(() => server.close());

function metadataOf(over: Partial<Record<'project' | 'filename' | 'unit', string>> = {}): Record<string, string> {
  return { project, filename: 'bay.xyz', unit: 'mm', ...over };
}

async function create(
  length: number | string,
  { by = scanner, metadata = metadataOf() }: { by?: Visitor; metadata?: Record<string, string> } = {},
) {
  const pairs = Object.entries(metadata).map(([key, value]) => `${key} ${base64(value)}`);
  const headers = { 'Tus-Resumable': '1.0.0', 'Upload-Length': String(length), 'Upload-Metadata': pairs.join(',') };
  const answer = await by.send('POST', '/api/uploads', undefined, headers);
  return { ...answer, location: answer.headers.get('location') ?? '' };
}

/** The body goes as it is: the visitor sends text unchanged. */
function patch(location: string, offset: number, content: string, by = scanner) {
  const headers = { 'Tus-Resumable': '1.0.0', 'Upload-Offset': String(offset) };
  return by.send('PATCH', location, content, { ...headers, 'Content-Type': 'application/offset+octet-stream' });
}

function head(location: string, by = scanner) {
  return by.send('HEAD', location, undefined, { 'Tus-Resumable': '1.0.0' });
}

const scansOf = async () =>
  scanListSchema.parse((await scanner.send('GET', `/api/projects/${project}/scans`)).body).scans;
const leftOver = () => readdirSync(join(server.dataDir, 'uploads')).filter((name) => name !== 'outcomes');

/** The real client; resolves with the last answer's body. */
function upload(options: Partial<UploadOptions>, content = text): { run: Promise<string>; client: Upload } {
  let client: Upload | undefined;
  const run = new Promise<string>((resolve, reject) => {
    client = new Upload(Buffer.from(content), {
      endpoint: `${server.origin}/api/uploads`,
      headers: { Cookie: scanner.cookie },
      metadata: metadataOf(),
      retryDelays: [],
      onError: reject,
      onSuccess: ({ lastResponse }) => resolve(lastResponse.getBody()),
      ...options,
    });
    client.start();
  });
  if (!client) throw new Error('no client');
  return { run, client };
}

describe('a scan that is uploaded', () => {
  it('is read in metres, kept by content and listed', async () => {
    const { scan, known } = uploadResultSchema.parse(JSON.parse(await upload({}).run));
    expect(known).toBe(false);
    expect(scan).toMatchObject({ sha256, name: 'bay.xyz', bytes: text.length, points: 3, format: 'xyz', unit: 'mm' });
    expect(scan.bounds).toEqual({ min: [0, 0, 0], max: [1, 2, 0.5] });
    expect(await scansOf()).toEqual([scan]);
    expect(await server.blobs.verify(sha256)).toBe(true);
    expect(leftOver()).toEqual([]);
  });

  it('tells how many of its points had no place, then and in the list', async () => {
    const { scan } = uploadResultSchema.parse(JSON.parse(await upload({}, `missed\n${text}missed\n`).run));
    expect(scan).toMatchObject({ points: 3, unplaced: 2 });
    expect(await scansOf()).toMatchObject([{ points: 3, unplaced: 2 }]);
  });

  it('is given in tiles: an index, and bytes that may be kept for good', async () => {
    const { scan } = uploadResultSchema.parse(JSON.parse(await upload({}).run));
    const path = `/api/projects/${project}/scans/${scan.id}/tiles`;
    const { visitor } = await server.person('rev');
    const answer = await visitor.send('GET', path);
    expect(answer.headers.get('cache-control')).toBe('private, no-cache');
    const index = tileIndexSchema.parse(answer.body);
    expect([index.points, index.origin]).toEqual([3, [0, 0, 0]]);
    const tag = answer.headers.get('etag') ?? 'none';
    expect(
      (await visitor.send('GET', path, undefined, { 'If-None-Match': tag, 'Cache-Control': 'max-age=0' })).status,
    ).toBe(304);

    const shown: number[][] = [];
    await codecReady;
    for (const { from, bytes, count, corner, step } of tilesOf(index)) {
      const stretch = await visitor.send('GET', `${path}/${index.stamp}/${from}-${from + bytes}`);
      expect(stretch.headers.get('content-type')).toBe('application/octet-stream');
      expect(stretch.headers.get('cache-control')).toBe('private, max-age=31536000, immutable');
      const decoded = decodeTile(stretch.bytes, count);
      if (!decoded.ok) throw new Error(decoded.problem);
      for (let i = 0; i < count; i++)
        shown.push(corner.map((x, k) => Math.round((x + ((decoded.points[4 * i + k] ?? 0) + 0.5) * step) * 1000)));
    }
    expect(shown.sort()).toEqual([
      [0, 0, 0],
      [0, 2000, 500],
      [1000, 0, 0],
    ]);
  });

  it('gives no tiles that are not there, and none to others', async () => {
    const { scan } = uploadResultSchema.parse(JSON.parse(await upload({}).run));
    const path = `/api/projects/${project}/scans/${scan.id}/tiles`;
    const { stamp } = tileIndexSchema.parse((await scanner.send('GET', path)).body);
    for (const [stretch, came] of [
      ['5-5', 'text of 3 characters'],
      ['all', 'text of 3 characters'],
      ['0-99999', '99999'],
    ]) {
      const refused = await scanner.send('GET', `${path}/${stamp}/${stretch}`);
      expect([refused.status, refused.body]).toMatchObject([400, { code: 'bad-request', came }]);
    }
    const stale = await scanner.send('GET', `${path}/ffffffff/0-4`);
    expect([stale.status, stale.body]).toMatchObject([404, { expected: stamp, came: 'ffffffff' }]);
    const other = await server.project({ scan: ['scanner'] });
    const elsewhere = `/api/projects/${other}/scans/${scan.id}/tiles`;
    for (const wanted of [elsewhere, `${elsewhere}/${stamp}/0-4`])
      expect((await scanner.send('GET', wanted)).status).toBe(404);
  });

  it('is known when the same file comes again in the same unit', async () => {
    const first = uploadResultSchema.parse(JSON.parse(await upload({}).run));
    expect(JSON.parse(await upload({}).run)).toEqual({ scan: first.scan, known: true });
    const inch = uploadResultSchema.parse(JSON.parse(await upload({ metadata: metadataOf({ unit: 'in' }) }).run));
    expect([inch.known, inch.scan.bounds.max]).toEqual([false, [25.4, 50.8, 12.7]]);
    expect(await scansOf()).toHaveLength(2);
  });

  it('goes on where it stood after a cut', async () => {
    const content = text.repeat(20_000);
    let sent = 0;
    const uploadUrl = await new Promise<string>((resolve) => {
      const { client } = upload(
        {
          chunkSize: 100_000,
          onChunkComplete: (_, accepted) => {
            if (accepted < 200_000) return;
            void client.abort();
            resolve(client.url ?? '');
          },
        },
        content,
      );
    });
    const stood = Number((await head(new URL(uploadUrl).pathname)).headers.get('upload-offset'));
    expect(stood).toBeGreaterThanOrEqual(200_000);
    expect(stood).toBeLessThan(content.length);
    const onBeforeRequest: UploadOptions['onBeforeRequest'] = (req) => {
      if (req.getMethod() === 'PATCH') sent = Number(req.getHeader('Upload-Offset'));
    };
    const body = await upload({ uploadUrl, onBeforeRequest }, content).run;
    expect(sent).toBe(stood);
    const whole = createHash('sha256').update(content).digest('hex');
    expect(uploadResultSchema.parse(JSON.parse(body)).scan).toMatchObject({ sha256: whole, bytes: content.length });
  });

  it('still tells its result when the last answer was lost', async () => {
    const { location } = await create(text.length);
    const done = await patch(location, 0, text);
    expect(done.status).toBe(200);
    const asked = await head(location);
    expect([asked.status, asked.headers.get('upload-offset')]).toEqual([200, String(text.length)]);
    expect((await scanner.send('GET', `${location}/result`)).body).toEqual(done.body);
    const { visitor } = await server.person('lead');
    expect((await visitor.send('GET', `${location}/result`)).status).toBe(404);
    expect((await head(location, visitor)).status).toBe(404);
  });

  it('is finished later when reading it failed for no fault of its own', async () => {
    fail = true;
    const { location } = await create(text.length);
    const broke = await patch(location, 0, text);
    expect([broke.status, broke.body]).toMatchObject([500, { code: 'internal' }]);
    expect(JSON.stringify(broke.body)).not.toContain('the reader broke');
    expect(server.alarms).toHaveLength(1);
    fail = false;
    const result = await scanner.send('GET', `${location}/result`);
    expect([result.status, result.body]).toMatchObject([200, { scan: { sha256 }, known: false }]);
    expect(await scansOf()).toHaveLength(1);
  });

  it('that can not be read is answered with the reason and not kept', async () => {
    const { location } = await create(4);
    const answer = await patch(location, 0, 'junk');
    const problem = { code: 'unreadable-scan', detail: 'line 1 is no point', expected: 'x y z', came: 'other text' };
    expect([answer.status, answer.body]).toMatchObject([422, problem]);
    expect(answer.headers.get('content-type')).toContain('application/problem+json');
    expect((await scanner.send('GET', `${location}/result`)).body).toEqual(answer.body);
    expect([leftOver(), await scansOf()]).toEqual([[], []]);
    expect(await server.blobs.localFile(createHash('sha256').update('junk').digest('hex'))).toBeUndefined();
  });

  it('that can not be read reaches the real client with the reason', async () => {
    const failed = await upload({}, 'junk').run.catch((error: unknown) => String(error));
    expect(failed).toContain('line 1 is no point');
  });
});

describe('an upload is refused before its first byte', () => {
  it.each([
    ['an empty file', 0, {}, 422, 'empty-file'],
    ['more than 5 GiB', 5 * 1024 ** 3 + 1, {}, 413, 'too-large'],
    ['no size', '', {}, 422, 'empty-file'],
    ['a size that is no number', 'many', {}, 400, 'bad-request'],
    ['an unknown unit', 10, { unit: 'furlong' }, 400, 'bad-request'],
    ['no name', 10, { filename: ' ' }, 400, 'bad-request'],
    ['another project', 10, { project: 'nowhere' }, 404, 'not-found'],
  ])('%s', async (_, length, over, status, code) => {
    const answer = await create(length, { metadata: metadataOf(over) });
    expect([answer.status, answer.body]).toMatchObject([status, { code }]);
    expect(leftOver()).toEqual([]);
  });

  it.each(['reviewer', 'printer', 'machinist', 'welder'] satisfies Role[])('by a %s', async (role) => {
    project = await server.project({ lead: ['lead'], [role]: [role] });
    const answer = await create(10, { by: (await server.person(role)).visitor });
    expect([answer.status, answer.body]).toMatchObject([403, { code: 'wrong-role', came: role }]);
  });

  it('without readable metadata', async () => {
    const headers = { 'Tus-Resumable': '1.0.0', 'Upload-Length': '5', 'Upload-Metadata': '!!!' };
    const answer = await scanner.send('POST', '/api/uploads', undefined, headers);
    expect([answer.status, answer.body]).toMatchObject([400, { code: 'bad-request' }]);
  });
});

describe('an upload under way', () => {
  it('belongs to who made it', async () => {
    const { location } = await create(10, { metadata: { ...metadataOf(), account: 'forged' } });
    const { visitor } = await server.person('lead');
    expect((await patch(location, 0, '0 0 0', visitor)).status).toBe(404);
    expect((await head(location, visitor)).status).toBe(404);
    expect((await visitor.send('DELETE', location, undefined, { 'Tus-Resumable': '1.0.0' })).status).toBe(404);
    expect((await patch(location, 0, '0 0 0')).status).toBe(204);
  });

  it('ends with the right to upload', async () => {
    const { location } = await create(10);
    const { account } = await server.person('scan');
    await server.records.putMember({ projectId: project, accountId: account.id, roles: ['reviewer'] });
    expect((await patch(location, 0, '0 0 0')).body).toMatchObject({ code: 'wrong-role' });
  });

  it('takes no bytes at the wrong place', async () => {
    const { location } = await create(10);
    await patch(location, 0, '0 0 0');
    const answer = await patch(location, 3, '0 0 0');
    expect([answer.status, answer.body]).toMatchObject([409, { code: 'upload-offset' }]);
    expect((await head(location)).headers.get('upload-offset')).toBe('5');
  });

  it('takes no more bytes than were announced', async () => {
    const { location } = await create(5);
    const answer = await patch(location, 0, text);
    expect([answer.status, answer.body]).toMatchObject([413, { code: 'too-large' }]);
  });

  it('has no result yet', async () => {
    const { location } = await create(10);
    await patch(location, 0, '0 0 0');
    const answer = await scanner.send('GET', `${location}/result`);
    expect([answer.status, answer.body]).toMatchObject([409, { code: 'upload-offset', came: '5 of 10 bytes' }]);
  });

  it('can be given up', async () => {
    const { location } = await create(10);
    expect((await scanner.send('DELETE', location, undefined, { 'Tus-Resumable': '1.0.0' })).status).toBe(204);
    expect([(await head(location)).status, leftOver()]).toEqual([404, []]);
  });

  it('speaks the agreed protocol version', async () => {
    const { location } = await create(10);
    const answer = await scanner.send('PATCH', location, '0 0 0', { 'Upload-Offset': '0' });
    expect([answer.status, answer.body]).toMatchObject([412, { code: 'tus-version' }]);
  });

  it.each(['..%2f..%2frecords.db', 'outcomes', '%00', 'a'.repeat(22)])('is no path: %s', async (id) => {
    expect((await head(`/api/uploads/${id}`)).status).toBe(404);
  });

  it('is forgotten with its outcome when it is old', async () => {
    const { location } = await create(text.length);
    await patch(location, 0, text);
    const outcome = join(server.dataDir, 'uploads', 'outcomes', `${location.split('/').at(-1)}.json`);
    server.clock.advance(6 * 24 * 3_600_000);
    await server.http.sweep();
    expect(existsSync(outcome)).toBe(true);
    server.clock.advance(2 * 24 * 3_600_000);
    await server.http.sweep();
    expect(existsSync(outcome)).toBe(false);
    expect(await server.blobs.verify(sha256)).toBe(true);
  });
});
