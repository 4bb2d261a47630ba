import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { defineConfig } from 'prisma/config';

// The command line looks for its native engine before every command, `generate` included, and fails where its download
// host can't be reached. `generate`, `validate` and `format` never call it: any existing file will do. Migrations don't
// need it either, the server applies them at start (server/storage/embedded/migrate.ts).
const engine = process.env.PRISMA_SCHEMA_ENGINE_BINARY;
if (engine === undefined || !existsSync(engine)) process.env.PRISMA_SCHEMA_ENGINE_BINARY = process.execPath;

const here = (path: string) => fileURLToPath(new URL(`../${path}`, import.meta.url));

export default defineConfig({
  schema: here('prisma/schema.prisma'),
  migrations: { path: here('prisma/migrations') },
  datasource: { url: process.env.DATABASE_URL ?? `file:${here('.slipjoint/records.db')}` },
});
