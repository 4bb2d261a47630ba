import { z } from 'zod';

/** Papers of a job, in the order they are offered. */
export const paperNames = ['traveller', 'weld-sheets', 'purge-sheet', 'review-pack'] as const;
/** One of {@link paperNames}. */
export type PaperName = (typeof paperNames)[number];
/** Tables of a job as CSV and JSON. */
export const tableNames = ['verdicts', 'spec', 'gates', 'signatures', 'concessions', 'markups'] as const;
/** One of {@link tableNames}. */
export type TableName = (typeof tableNames)[number];
/** Sheets a paper is printed on. */
export const paperSizes = ['a4', 'letter'] as const;

/** Pictures in one review pack at most. */
export const pictureLimit = 40;
/** Bytes of one picture at most. */
export const pictureBytes = 1024 * 1024;
/** Bytes of a request with pictures at most: all of them in base64, and what stands around them. */
export const packBodyLimit = Math.ceil((pictureLimit * pictureBytes * 4) / 3) + 64 * 1024;

/** Body of POST /api/projects/:id/papers/review-pack.pdf: pictures of the view at the pins of markups. */
export const packRequestSchema = z.strictObject({
  pictures: z
    .array(
      z.strictObject({
        /** Id of the thread the picture was taken for. */
        thread: z.string().regex(/^[a-z0-9]{1,40}$/),
        /** PNG or JPEG in base64. */
        image: z.base64().max(Math.ceil((pictureBytes * 4) / 3) + 4),
      }),
    )
    .max(pictureLimit),
});
/** See {@link packRequestSchema}. */
export type PackRequest = z.infer<typeof packRequestSchema>;

/** Answer of GET and body of PUT /api/projects/:id/paper-links: whether codes on papers answer people who are not signed in. */
export const paperLinksSchema = z.strictObject({ allowed: z.boolean() });

/** What a code on a paper carries, below the address of the server: /g/<project>/<gate>?d=<first 16 digits of the gate's digest>. */
export function paperLink(
  origin: string,
  at: { readonly project: string; readonly gate: string; readonly digest: string },
): string {
  return `${origin}/g/${encodeURIComponent(at.project)}/${at.gate}?d=${at.digest.slice(0, 16)}`;
}
