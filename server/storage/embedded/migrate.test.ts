import { appendFileSync, cpSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3';
import Database from 'better-sqlite3';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Prisma, PrismaClient } from '../../../prisma/generated/client.ts';
import { testFolder } from '../../../tests/support/folder.ts';
import { migrate } from './migrate.ts';

const shipped = fileURLToPath(new URL('../../../prisma/migrations', import.meta.url));

// One row per model, every column filled: the type fails to compile when a model has no sample or a sample lacks a field.
type Full<T> = { [K in keyof T]-?: NonNullable<T[K]> };
const account = { id: 'a', login: 'lea', name: 'Lea', passwordHash: '$x', createdAt: 't' };
const samples = {
  Account: account,
  Session: { id: 's', accountId: 'a', createdAt: 't', lastSeenAt: 't', expiresAt: 't' },
  Project: { id: 'p', name: 'Job', createdAt: 't' },
  Member: { projectId: 'p', accountId: 'a', roles: '["lead"]' },
  Invite: {
    ...{ id: 'i', projectId: 'p', role: 'welder', createdBy: 'a', createdAt: 't', expiresAt: 't' },
    ...{ usedAt: 't', usedBy: 'a', revokedAt: 't' },
  },
  Scan: {
    ...{ id: 'c', projectId: 'p', sha256: 'ff', name: 'bay', bytes: 5_368_709_120n, points: 2_147_483_647 },
    ...{ format: 'ply', unit: 'mm', boundsJson: '{}', spacing: 0.1, unplaced: 12_345 },
    ...{ uploadedBy: 'a', createdAt: 't' },
  },
  Part: {
    ...{ id: 'm', projectId: 'p', sha256: 'ee', name: 'collector', bytes: 5_368_709_120n, triangles: 2_147_483_647 },
    ...{ format: '3mf', unit: 'mm', unitStated: true, boundsJson: '{}', uploadedBy: 'a', createdAt: 't' },
  },
  SignOff: {
    ...{ id: 'o', projectId: 'p', gate: 'scan', seq: 1, statement: '{}', hash: 'h', previousHash: '' },
    ...{ accountId: 'a', createdAt: 't' },
  },
  RecordHead: { projectId: 'p', size: 1, root: 'r', last: 'h', at: 't', key: 'k', signature: 's' },
  Revision: {
    ...{ id: 'r', projectId: 'p', n: 1, name: 'As agreed', note: '', seq: 7, sha256: 'dd', ruleSet: 1 },
    ...{ by: 'a', createdAt: 't' },
  },
  ApiToken: {
    ...{ id: 'k', projectId: 'p', accountId: 'a', name: 'Nightly', scopes: '["read"]', createdAt: 't' },
    ...{ expiresAt: 't', lastUsedAt: 't', revokedAt: 't' },
  },
  KeptAnswer: { id: 'q', request: 'ff', status: 200, body: '{}', at: 't' },
  Notice: {
    ...{ id: 'n', projectId: 'p', accountId: 'a', kind: 'waits', subject: 's', words: 'w', place: '{}' },
    ...{ at: 't', readAt: 't', overAt: 't' },
  },
  Delivery: {
    ...{ id: 'd', projectId: 'p', way: 'mail', recipient: 'a', noticeId: 'n', payload: '', createdAt: 't' },
    ...{ tries: 1, nextAt: 't', doneAt: 't', givenUpAt: 't', lastError: 'e' },
  },
  Hook: { id: 'w', projectId: 'p', url: 'u', secret: 's', createdBy: 'a', createdAt: 't', endedAt: 't' },
  MailAddress: { accountId: 'a', address: 'x@y', codeHash: 'h', codeUntil: 't', tries: 1, confirmedAt: 't' },
  Passkey: {
    ...{ id: 'c1', accountId: 'a', name: 'Phone', rpId: 'localhost', key: '{}', counter: 7 },
    ...{ createdAt: 't', lastUsedAt: 't' },
  },
  Photo: { projectId: 'p', sha256: 'aa', thumb: 'bb', width: 4, height: 3, bytes: 9, by: 'a', at: 't' },
  ClientId: { projectId: 'p', doc: 'spec', clientId: '9007199254740991', accountId: 'a' },
  Setting: { key: 'k', value: 'v' },
} satisfies {
  [M in Prisma.ModelName]: Full<Prisma.TypeMap['model'][M]['payload']['scalars']>;
};
const columns = {
  Account: Prisma.AccountScalarFieldEnum,
  Session: Prisma.SessionScalarFieldEnum,
  Project: Prisma.ProjectScalarFieldEnum,
  Member: Prisma.MemberScalarFieldEnum,
  Invite: Prisma.InviteScalarFieldEnum,
  Scan: Prisma.ScanScalarFieldEnum,
  Part: Prisma.PartScalarFieldEnum,
  SignOff: Prisma.SignOffScalarFieldEnum,
  RecordHead: Prisma.RecordHeadScalarFieldEnum,
  Revision: Prisma.RevisionScalarFieldEnum,
  ApiToken: Prisma.ApiTokenScalarFieldEnum,
  KeptAnswer: Prisma.KeptAnswerScalarFieldEnum,
  Notice: Prisma.NoticeScalarFieldEnum,
  Delivery: Prisma.DeliveryScalarFieldEnum,
  Hook: Prisma.HookScalarFieldEnum,
  MailAddress: Prisma.MailAddressScalarFieldEnum,
  Passkey: Prisma.PasskeyScalarFieldEnum,
  Photo: Prisma.PhotoScalarFieldEnum,
  ClientId: Prisma.ClientIdScalarFieldEnum,
  Setting: Prisma.SettingScalarFieldEnum,
} satisfies Record<Prisma.ModelName, Record<string, string>>;
const models = Object.values(Prisma.ModelName);

interface AnyModel {
  create(query: { data: object }): Promise<object>;
  findFirst(): Promise<object | null>;
}

let folder: ReturnType<typeof testFolder>;
let file: string;
beforeEach(() => {
  folder = testFolder();
  file = join(folder.path, 'records.db');
});
afterEach(() => folder.dispose());

describe('the migrated database and the Prisma schema agree', () => {
  it('in the columns of every model', () => {
    migrate(file, shipped);
    const db = new Database(file);
    for (const model of models) {
      const inDatabase = db.pragma(`table_info("${model}")`) as { name: string }[];
      expect([model, ...inDatabase.map(({ name }) => name).sort()]).toEqual([
        model,
        ...Object.values(columns[model]).sort(),
      ]);
    }
    db.close();
  });

  it('in what a row of every model can hold', async () => {
    migrate(file, shipped);
    const client = new PrismaClient({ adapter: new PrismaBetterSqlite3({ url: `file:${file}` }) });
    try {
      // Parents before children.
      const order: Prisma.ModelName[] = [
        'Account',
        'Project',
        ...models.filter((m) => m !== 'Account' && m !== 'Project'),
      ];
      for (const model of order) {
        const key = `${model[0]?.toLowerCase()}${model.slice(1)}`;
        const table = (client as unknown as Record<string, AnyModel>)[key];
        expect(await table?.create({ data: samples[model] })).toEqual(samples[model]);
        expect(await table?.findFirst()).toEqual(samples[model]);
      }
    } finally {
      await client.$disconnect();
    }
  });

  it('in the unique keys', async () => {
    migrate(file, shipped);
    const client = new PrismaClient({ adapter: new PrismaBetterSqlite3({ url: `file:${file}` }) });
    try {
      await client.account.create({ data: account });
      const second = client.account.create({ data: { ...account, id: 'b' } });
      await expect(second).rejects.toMatchObject({ code: 'P2002' });
      const orphan = client.member.create({ data: { projectId: 'none', accountId: 'a', roles: '[]' } });
      await expect(orphan).rejects.toMatchObject({ code: 'P2003' });
    } finally {
      await client.$disconnect();
    }
  });
});

describe('the migrator', () => {
  const own = () => join(folder.path, 'migrations');
  const write = (name: string, sql: string) => {
    mkdirSync(join(own(), name), { recursive: true });
    writeFileSync(join(own(), name, 'migration.sql'), sql);
  };

  it('applies each migration once, and later ones later', () => {
    cpSync(shipped, own(), { recursive: true });
    expect(migrate(file, own())).toEqual([
      '20261125000000_init',
      '20261125190000_parts',
      '20261125210000_record_heads',
      '20261125230000_revisions',
      '20261126000000_notices',
      '20261126010000_passkeys',
      '20261126020000_unplaced',
    ]);
    expect(migrate(file, own())).toEqual([]);
    write('29991231000000_more', 'CREATE TABLE "More" (id TEXT);');
    expect(migrate(file, own())).toEqual(['29991231000000_more']);
  });

  it('leaves nothing of a migration that fails half-way, so the mended one applies', () => {
    write('1_bad', 'CREATE TABLE "Half" (id TEXT); CREATE TABLE "Half" (id TEXT);');
    expect(() => migrate(file, own())).toThrow('already exists');
    write('1_bad', 'CREATE TABLE "Half" (id TEXT);');
    expect(migrate(file, own())).toEqual(['1_bad']);
  });

  it('refuses a migration that was edited after it was applied', () => {
    write('1_one', 'CREATE TABLE "One" (id TEXT);');
    migrate(file, own());
    appendFileSync(join(own(), '1_one', 'migration.sql'), '\n-- later thought');
    expect(() => migrate(file, own())).toThrow('1_one was edited');
  });

  it('refuses a database of a newer version', () => {
    write('1_one', 'CREATE TABLE "One" (id TEXT);');
    write('2_two', 'CREATE TABLE "Two" (id TEXT);');
    migrate(file, own());
    const older = join(folder.path, 'older');
    cpSync(join(own(), '1_one'), join(older, '1_one'), { recursive: true });
    expect(() => migrate(file, older)).toThrow('newer version (it has 2_two)');
  });

  it('refuses what another migrator left half done', () => {
    write('1_one', 'CREATE TABLE "One" (id TEXT);');
    migrate(file, own());
    const db = new Database(file);
    db.exec('UPDATE _prisma_migrations SET finished_at = NULL');
    db.close();
    expect(() => migrate(file, own())).toThrow('left half done');
  });
});
