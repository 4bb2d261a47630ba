import type { RevisionRecords } from '../revisions.ts';
import type { RecordsDatabase } from './database.ts';

export function revisionRecords(db: RecordsDatabase): RevisionRecords {
  return {
    addRevision: (revision) =>
      db.transaction(async (tx) => {
        const { projectId } = revision;
        const last = await tx.revision.findFirst({ where: { projectId }, orderBy: { n: 'desc' } });
        return tx.revision.create({ data: { ...revision, n: (last?.n ?? 0) + 1 } });
      }),
    revision: (projectId, id) =>
      db.query(async (tx) => (await tx.revision.findFirst({ where: { id, projectId } })) ?? undefined),
    revisions: (projectId) => db.query((tx) => tx.revision.findMany({ where: { projectId }, orderBy: { n: 'desc' } })),
  };
}
