import { concessionEndSchema, concessionListSchema, concessionRequestSchema } from './concessions.ts';
import {
  editedSchema,
  madeMarkupSchema,
  markupStateSchema,
  newCommentSchema,
  newMarkupSchema,
  specEditSchema,
} from './edits.ts';
import {
  askedPosesSchema,
  askedReportSchema,
  exportFormats,
  mendedPartSchema,
  meshQuerySchema,
  partListSchema,
  partResultSchema,
  posesQuerySchema,
  scanListSchema,
  uploadResultSchema,
} from './http.ts';
import { askedNearnessSchema, nearnessQuerySchema } from './nearness.ts';
import { packRequestSchema, paperLinksSchema } from './papers.ts';
import { photoSchema } from './photos.ts';
import { planRequestSchema, planViewSchema } from './plan.ts';
import {
  compareQuerySchema,
  comparisonSchema,
  historyQuerySchema,
  historySchema,
  newRevisionSchema,
  revisionListSchema,
  revisionSchema,
  revisionStateSchema,
} from './revisions.ts';
import { json, type Route, rows } from './route.ts';
import { askedScanFitSchema, fittedScanSchema, scanFitWishSchema } from './scanFit.ts';
import { offerRequestSchema, offerSchema, signedSchema, signRequestSchema } from './signing.ts';
import { tileIndexSchema } from './tiles.ts';

const base = '/api/projects/:id';
const octets = 'application/octet-stream';
const spec = rows({ topic: 'Spec', base, who: 'read', scope: 'read' });
const edit = rows({ topic: 'Spec', base, who: 'editSpec', scope: 'edit' });
const specOut = rows({ topic: 'Spec', base, who: 'export', scope: 'export' });
const seen = rows({ topic: 'Markups', base, who: 'read', scope: 'read' });
const remark = rows({ topic: 'Markups', base, who: 'comment', scope: 'comment' });
const gate = rows({ topic: 'Gates', base, who: 'read', scope: 'read' });
const sign = rows({ topic: 'Gates', base, who: 'read', scope: null });
const plan = rows({ topic: 'Gates', base, who: 'plan', scope: null });
const concede = rows({ topic: 'Gates', base, who: 'concede', scope: null });
const record = rows({ topic: 'Gates', base, who: 'export', scope: 'export' });
const file = rows({ topic: 'Scans and parts', base, who: 'read', scope: 'read' });
const fileOut = rows({ topic: 'Scans and parts', base, who: 'export', scope: 'export' });
const bring = rows({ topic: 'Scans and parts', base, who: 'upload', scope: 'upload' });
const upload = rows({ topic: 'Scans and parts', base: '/api/uploads', who: 'account', scope: 'upload' });
const paper = rows({ topic: 'Papers and tables', base, who: 'export', scope: 'export' });
const link = rows({ topic: 'Papers and tables', base, who: 'read', scope: null });

type Asked =
  | typeof askedReportSchema
  | typeof askedPosesSchema
  | typeof askedNearnessSchema
  | typeof askedScanFitSchema;
const asked = (schema: Asked) => ({
  answers: { 200: schema, 202: schema },
});
const tus = ['Tus-Resumable', 'Upload-Offset', 'Upload-Length', 'Upload-Metadata'] as const;

const specRoutes: readonly Route[] = [
  specOut('get /spec', 'The spec as a file; its ETag is the journal number', { answers: { 200: json } }),
  edit('patch /spec', 'Change the spec', {
    ...{ body: specEditSchema, answers: { 200: editedSchema }, headers: ['If-Match', 'Idempotency-Key'] },
    refusals: ['edit-refused', 'moved-on', 'key-reused', 'read-only'],
  }),
  spec('get /verdicts', 'All checks as they stand', { answers: { 200: json } }),
  spec('get /revisions', 'Revisions', { answers: { 200: revisionListSchema } }),
  edit('post /revisions', 'Keep the present state as a revision', {
    ...{ body: newRevisionSchema, answers: { 201: revisionSchema } },
  }),
  spec('get /revisions/:revision', 'A revision with its entries', { answers: { 200: revisionStateSchema } }),
  specOut('get /revisions/:revision/spec', 'A revision as a spec file', { answers: { 200: json } }),
  spec('get /compare', 'What two states differ in', { query: compareQuerySchema, answers: { 200: comparisonSchema } }),
  spec('get /history', 'Who changed what', { query: historyQuerySchema, answers: { 200: historySchema } }),
  seen('get /markups', 'Remarks', { answers: { 200: json } }),
  remark('post /markups', 'Make a remark at a place', {
    ...{ body: newMarkupSchema, answers: { 201: madeMarkupSchema }, headers: ['Idempotency-Key'] },
    refusals: ['edit-refused', 'key-reused', 'read-only'],
  }),
  remark('post /markups/:thread/comments', 'Answer a remark', {
    ...{ body: newCommentSchema, answers: { 201: editedSchema }, headers: ['Idempotency-Key'] },
    refusals: ['edit-refused', 'key-reused', 'read-only'],
  }),
  remark('put /markups/:thread/state', 'Resolve or reopen a remark', {
    ...{ body: markupStateSchema, answers: { 200: editedSchema }, refusals: ['edit-refused', 'read-only'] },
  }),
];

const decided = ['wrong-password', 'too-many', 'facts-moved'] as const;
const gateRoutes: readonly Route[] = [
  gate('get /gates', 'Where the gates stand', { answers: { 200: json } }),
  gate('get /signatures', 'All signatures and whether their chain holds', { answers: { 200: json } }),
  sign('post /gates/:gate/challenge', 'What will be signed, to read it first', {
    ...{ body: offerRequestSchema, answers: { 201: offerSchema } },
    refusals: ['facts-moved', 'passkey-refused', 'wrong-role', 'gate-held', 'already-signed', 'same-person'],
  }),
  sign('post /gates/:gate/signatures', 'Sign what was read', {
    ...{ body: signRequestSchema, answers: { 201: signedSchema } },
    refusals: [
      ...decided,
      'offer-gone',
      'record-moved',
      'passkey-refused',
      'wrong-role',
      'gate-held',
      'already-signed',
      'same-person',
    ],
  }),
  edit('post /photos', 'Bring a photo of what was ticked', {
    ...{ raw: 'image/jpeg', answers: { 201: photoSchema }, refusals: ['unreadable-photo', 'too-large'] },
  }),
  gate('get /photos/:sha', 'A photo', { answers: { 200: 'image/jpeg' }, light: true }),
  gate('get /photos/:sha/thumb', 'A photo, small', { answers: { 200: 'image/jpeg' }, light: true }),
  gate('get /plan', 'The plan of the gates', { answers: { 200: planViewSchema } }),
  plan('put /plan', 'Change the plan', {
    ...{ body: planRequestSchema, answers: { 200: signedSchema }, refusals: [...decided, 'plan-refused', 'gate-held'] },
  }),
  gate('get /concessions', 'What was accepted outside its limit', { answers: { 200: concessionListSchema } }),
  concede('post /concessions', 'Accept a value outside its limit', {
    ...{ body: concessionRequestSchema, answers: { 201: json } },
    refusals: [...decided, 'nothing-to-accept', 'already-accepted'],
  }),
  concede('post /concessions/:cid/end', 'End a concession', {
    ...{ body: concessionEndSchema, answers: { 201: json } },
    refusals: [...decided, 'already-over'],
  }),
  record('get /record', 'The record of signatures with its signed heads', { answers: { 200: json } }),
  record('get /record/proof/:seq', 'One row of it, with the proof that it stands there', { answers: { 200: json } }),
  record('get /record/growth/:size', 'The proof that it only grew since it had so many rows', {
    answers: { 200: json },
  }),
  gate('get /record/head', 'The last signed head of the record', { answers: { 200: json } }),
];

const fileRoutes: readonly Route[] = [
  file('get /scans', 'Scans', { answers: { 200: scanListSchema } }),
  file('get /scans/:scan/tiles', 'How a scan is cut into tiles', { answers: { 200: tileIndexSchema }, light: true }),
  file('get /scans/:scan/tiles/:stamp/:stretch', 'A stretch of tiles', { answers: { 200: octets }, light: true }),
  file('get /scans/:scan/nearness', 'How near the header is to the scan', {
    ...{ query: nearnessQuerySchema, ...asked(askedNearnessSchema), light: true },
  }),
  file('get /scans/:scan/nearness/:name/:stretch', 'A level for each point', { answers: { 200: octets }, light: true }),
  bring('get /scan-fit', 'How well the scan of a component can be laid on that of another', {
    ...{ query: scanFitWishSchema, ...asked(askedScanFitSchema), light: true },
  }),
  bring('post /scan-fit', 'Make a copy of a scan that lies on the other', {
    ...{ body: scanFitWishSchema, answers: { 201: fittedScanSchema }, refusals: ['fit-refused'] },
  }),
  file('get /parts', 'Parts', { answers: { 200: partListSchema } }),
  fileOut('get /parts/:part/mesh', 'A part as a file', { query: meshQuerySchema, answers: { 200: octets } }),
  file('get /parts/:part/report', 'What is wrong with a part’s surface', { ...asked(askedReportSchema), light: true }),
  bring('post /parts/:part/mended', 'Make a mended copy of a part', { answers: { 201: mendedPartSchema } }),
  file('get /parts/:part/poses', 'Ways to stand a part on the build plate', {
    ...{ query: posesQuerySchema, ...asked(askedPosesSchema), light: true },
  }),
  ...['step', ...exportFormats].map((format) =>
    fileOut(`get /header.${format}`, `The header as ${format.toUpperCase()}`, {
      ...{ answers: { 200: octets }, refusals: ['nothing-to-export'] },
    }),
  ),
  upload('post ', 'Begin to send a file (tus 1.0)', {
    ...{
      headers: tus,
      answers: { 201: null },
      refusals: ['bad-request', 'not-found', 'wrong-role', 'tus-version', 'empty-file', 'too-large', 'no-space'],
    },
  }),
  upload('options ', 'What the upload protocol can do', { answers: { 204: null }, who: 'anyone', scope: null }),
  upload('options /:id', 'The same', { answers: { 204: null }, who: 'anyone', scope: null }),
  upload('get /:id/result', 'How an upload ended', {
    ...{ answers: { 200: uploadResultSchema.or(partResultSchema) }, light: true },
    refusals: ['upload-offset', 'unreadable-scan', 'unreadable-part'],
  }),
  upload('head /:id', 'How far an upload is', { headers: tus, answers: { 200: null }, light: true }),
  upload('patch /:id', 'Send the next piece', {
    ...{ headers: tus, raw: 'application/offset+octet-stream', light: true },
    answers: { 200: uploadResultSchema.or(partResultSchema), 204: null },
    refusals: ['wrong-role', 'upload-offset', 'upload-busy', 'upload-gone', 'unreadable-scan', 'unreadable-part'],
  }),
  upload('delete /:id', 'Give an upload up', { headers: tus, answers: { 204: null }, refusals: ['upload-gone'] }),
];

const paperRoutes: readonly Route[] = [
  paper('get /papers/:file', 'A paper as PDF: traveller.pdf, weld-sheets.pdf, purge-sheet.pdf, review-pack.pdf', {
    ...{ answers: { 200: 'application/pdf' }, refusals: ['too-many'] },
  }),
  paper('post /papers/review-pack.pdf', 'The review pack with pictures', {
    ...{ body: packRequestSchema, answers: { 200: 'application/pdf' }, refusals: ['too-many', 'too-large'] },
  }),
  paper('get /tables/:file', 'A table: verdicts, spec, gates, signatures, concessions, markups; .csv or .json', {
    ...{ answers: { 200: json } },
  }),
  link('get /paper-links', 'Whether codes on papers answer strangers', { answers: { 200: paperLinksSchema } }),
  link('put /paper-links', 'Say whether they do', {
    ...{ body: paperLinksSchema, answers: { 200: paperLinksSchema }, lead: true },
  }),
];

/** Everything that is done with a job. */
export const workRoutes: readonly Route[] = [...specRoutes, ...gateRoutes, ...fileRoutes, ...paperRoutes];
