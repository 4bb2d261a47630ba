import { fileURLToPath } from 'node:url';
import { PrismaBetterSqlite3 } from '@prisma/adapter-better-sqlite3';
import { type Prisma, PrismaClient } from '../../../prisma/generated/client.ts';
import { migrate } from './migrate.ts';
import { rootFile } from './root-file.ts';

/** What a piece of work may call: the client inside its transaction. */
export type Transaction = Prisma.TransactionClient;

export interface RecordsDatabase {
  /** Runs `work` in a transaction of its own, after everything asked for earlier. */
  transaction<T>(work: (tx: Transaction) => Promise<T>): Promise<T>;
  /** The same without a transaction (about a fifth of the cost): only for reading, or for one writing statement. */
  query<T>(work: (client: Transaction) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

/** Opens (and if needed makes or migrates) the records' database file. */
export async function openDatabase(file: string): Promise<RecordsDatabase> {
  migrate(file, fileURLToPath(new URL('./', rootFile('prisma/migrations/migration_lock.toml', import.meta.url))));
  const client = new PrismaClient({ adapter: new PrismaBetterSqlite3({ url: `file:${file}` }) });
  await setDurable(client);
  // The adapter has one connection, and its lock keeps transactions apart but not plain queries from an open
  // transaction: a plain write could be rolled back with somebody else's. So everything stands in one line here.
  let line: Promise<unknown> = Promise.resolve();
  let closed = false;
  const inLine = <T>(work: () => Promise<T>): Promise<T> => {
    const result = line.then(work, work);
    line = result.catch(() => undefined);
    return result;
  };
  const whileOpen = <T>(work: () => Promise<T>): Promise<T> =>
    closed ? Promise.reject(new Error('the records are closed')) : inLine(work);
  return {
    transaction: (work) => whileOpen(() => client.$transaction(work)),
    query: (work) => whileOpen(() => work(client)),
    close: () => {
      closed = true;
      return inLine(() => client.$disconnect());
    },
  };
}

/** SQLite reopens a write-ahead log with synchronous=NORMAL, where power loss may take back an acknowledged commit. */
async function setDurable(client: PrismaClient): Promise<void> {
  await client.$queryRawUnsafe('PRAGMA journal_mode = WAL');
  await client.$executeRawUnsafe('PRAGMA synchronous = FULL');
  const rows = await client.$queryRawUnsafe<{ synchronous: number | bigint }[]>('PRAGMA synchronous');
  if (Number(rows[0]?.synchronous) !== 2) throw new Error('the records database refused PRAGMA synchronous = FULL');
}
