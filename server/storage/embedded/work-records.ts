import { boundsSchema, scanUnitSchema } from '../../../shared/protocol/http.ts';
import type { Part, Records, Scan } from '../ports.ts';
import type { RecordsDatabase } from './database.ts';

type WorkRecords = Pick<
  Records,
  | 'addScan'
  | 'scan'
  | 'scans'
  | 'addPart'
  | 'part'
  | 'parts'
  | 'appendSignOff'
  | 'signOffs'
  | 'lastSignOff'
  | 'heads'
  | 'bindClient'
  | 'clientBindings'
  | 'setting'
  | 'putSetting'
>;

export function workRecords(db: RecordsDatabase): WorkRecords {
  return { ...scanRecords(db), ...partRecords(db), ...signOffRecords(db), ...smallRecords(db) };
}

function scanRecords(db: RecordsDatabase) {
  return {
    addScan: (scan) =>
      db.transaction(async (tx) => {
        const { projectId, sha256, unit } = scan;
        const row = await tx.scan.findUnique({ where: { projectId_sha256_unit: { projectId, sha256, unit } } });
        if (row) return readScan(row);
        const { bounds, bytes, ...rest } = scan;
        await tx.scan.create({ data: { ...rest, bytes: BigInt(bytes), boundsJson: JSON.stringify(bounds) } });
        return scan;
      }),
    scan: (projectId, id) =>
      db.query(async (tx) => {
        const row = await tx.scan.findFirst({ where: { id, projectId } });
        return row ? readScan(row) : undefined;
      }),
    scans: (projectId) =>
      db.query(async (tx) => {
        const rows = await tx.scan.findMany({
          where: { projectId },
          orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
        });
        return rows.map(readScan);
      }),
  } satisfies Partial<WorkRecords>;
}

function partRecords(db: RecordsDatabase) {
  return {
    addPart: (part) =>
      db.transaction(async (tx) => {
        const { projectId, sha256, unit } = part;
        const row = await tx.part.findUnique({ where: { projectId_sha256_unit: { projectId, sha256, unit } } });
        if (row) return readPart(row);
        const { bounds, bytes, ...rest } = part;
        await tx.part.create({ data: { ...rest, bytes: BigInt(bytes), boundsJson: JSON.stringify(bounds) } });
        return part;
      }),
    part: (projectId, id) =>
      db.query(async (tx) => {
        const row = await tx.part.findFirst({ where: { id, projectId } });
        return row ? readPart(row) : undefined;
      }),
    parts: (projectId) =>
      db.query(async (tx) => {
        const rows = await tx.part.findMany({ where: { projectId }, orderBy: [{ createdAt: 'asc' }, { id: 'asc' }] });
        return rows.map(readPart);
      }),
  } satisfies Partial<WorkRecords>;
}

function signOffRecords(db: RecordsDatabase) {
  return {
    appendSignOff: (signOff, head) =>
      db.transaction(async (tx) => {
        const last = await tx.signOff.findFirst({
          where: { projectId: signOff.projectId },
          orderBy: { seq: 'desc' },
        });
        const follows = last ? signOff.seq === last.seq + 1 && signOff.previousHash === last.hash : signOff.seq === 1;
        if (!follows) return 'moved';
        await tx.signOff.create({ data: signOff });
        const { project: projectId, ...rest } = head;
        await tx.recordHead.create({ data: { projectId, ...rest } });
        return 'appended';
      }),
    signOffs: (projectId, gate) =>
      db.query((tx) =>
        tx.signOff.findMany({
          where: gate === undefined ? { projectId } : { projectId, gate },
          orderBy: { seq: 'asc' },
        }),
      ),
    lastSignOff: (projectId) =>
      db.query(async (tx) => {
        const row = await tx.signOff.findFirst({ where: { projectId }, orderBy: { seq: 'desc' } });
        return row ?? undefined;
      }),
    heads: (projectId) =>
      db.query(async (tx) => {
        const rows = await tx.recordHead.findMany({ where: { projectId }, orderBy: { size: 'asc' } });
        return rows.map(({ projectId: project, ...rest }) => ({ project, ...rest }));
      }),
  } satisfies Partial<WorkRecords>;
}

function smallRecords(db: RecordsDatabase) {
  return {
    bindClient: ({ projectId, doc, clientId, accountId }) =>
      db.transaction(async (tx) => {
        const key = { projectId, doc, clientId: String(clientId) };
        const row = await tx.clientId.findUnique({ where: { projectId_doc_clientId: key } });
        if (row) return row.accountId;
        await tx.clientId.create({ data: { ...key, accountId } });
        return accountId;
      }),
    clientBindings: (projectId, doc) =>
      db.query(async (tx) => {
        const rows = await tx.clientId.findMany({ where: { projectId, doc } });
        return new Map(rows.map((row) => [Number(row.clientId), row.accountId]));
      }),
    setting: (key) => db.query(async (tx) => (await tx.setting.findUnique({ where: { key } }))?.value),
    putSetting: (key, value) =>
      db.query(async (tx) => {
        await tx.setting.upsert({ where: { key }, create: { key, value }, update: { value } });
      }),
  } satisfies Partial<WorkRecords>;
}

/** As the database holds what a scan and a part have in common. */
type Stored<T> = Omit<T, 'bounds' | 'bytes' | 'unit'> & {
  readonly bytes: bigint;
  readonly boundsJson: string;
  readonly unit: string;
};

function readScan(row: Stored<Scan>): Scan {
  const { boundsJson: _, ...rest } = row;
  return { ...rest, ...readFile(row) };
}

function readPart(row: Stored<Part>): Part {
  const { boundsJson: _, ...rest } = row;
  return { ...rest, ...readFile(row) };
}

function readFile({ boundsJson, bytes, unit }: Pick<Stored<Scan>, 'boundsJson' | 'bytes' | 'unit'>) {
  const bounds = boundsSchema.parse(JSON.parse(boundsJson));
  return { bytes: Number(bytes), unit: scanUnitSchema.parse(unit), bounds };
}
