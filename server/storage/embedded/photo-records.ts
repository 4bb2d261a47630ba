import type { PhotoRecords } from '../photos.ts';
import type { RecordsDatabase } from './database.ts';

export function photoRecords(db: RecordsDatabase): PhotoRecords {
  return {
    addPhoto: (photo) =>
      db.transaction(async (tx) => {
        const { projectId, sha256 } = photo;
        const there = await tx.photo.findUnique({ where: { projectId_sha256: { projectId, sha256 } } });
        return there ?? tx.photo.create({ data: photo });
      }),
    photo: (projectId, sha256) =>
      db.query(
        async (tx) => (await tx.photo.findUnique({ where: { projectId_sha256: { projectId, sha256 } } })) ?? undefined,
      ),
  };
}
