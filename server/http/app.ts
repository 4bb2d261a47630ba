import express, { type Express } from 'express';
import { jsonLimit } from '../../shared/protocol/http.ts';
import { concessionRoutes } from './concession-routes.ts';
import { gateRoutes } from './gates.ts';
import { headerRoutes } from './header-routes.ts';
import { healthRoutes } from './health.ts';
import { inviteRoutes, offerRoutes } from './invites.ts';
import { markupRoutes } from './markup-routes.ts';
import { memberRoutes } from './member-routes.ts';
import { mailRoutes, noticeRoutes } from './notice-routes.ts';
import { openApiRoutes } from './openapi-routes.ts';
import { paperPage } from './paper-page.ts';
import { packRoute, paperRoutes } from './paper-routes.ts';
import { partRoutes } from './part-routes.ts';
import type { HttpParts } from './parts.ts';
import { passkeyRoutes } from './passkey-routes.ts';
import { photoRoutes } from './photo-routes.ts';
import { planRoutes } from './plan-routes.ts';
import { projectRoutes } from './projects.ts';
import { sameOriginOnly, securityHeaders } from './protection.ts';
import { recordRoutes } from './record-routes.ts';
import { answerErrors, nothingHere } from './refusal.ts';
import { identify } from './requester.ts';
import { revisionRoutes } from './revision-routes.ts';
import { scanFitRoutes } from './scan-fit-routes.ts';
import { scanRoutes } from './scans.ts';
import { sessionRoutes } from './session.ts';
import { specRoutes } from './spec.ts';
import { specEditRoutes } from './spec-edit.ts';
import { tokenRoutes } from './token-routes.ts';
import { openUploads } from './uploads.ts';
import { webFiles } from './web-files.ts';

export interface Http {
  readonly app: Express;
  /** Forgets uploads nobody went on with for a week. */
  sweep(): Promise<void>;
}

/** Routes below /api, after the body reader. */
const resources = [
  sessionRoutes,
  projectRoutes,
  inviteRoutes,
  offerRoutes,
  scanRoutes,
  scanFitRoutes,
  partRoutes,
  headerRoutes,
  specRoutes,
  specEditRoutes,
  markupRoutes,
  memberRoutes,
  tokenRoutes,
  noticeRoutes,
  mailRoutes,
  openApiRoutes,
  gateRoutes,
  passkeyRoutes,
  planRoutes,
  concessionRoutes,
  recordRoutes,
  paperRoutes,
  revisionRoutes,
];

/** Everything that answers over HTTP; sockets are upgraded elsewhere. */
export async function createHttp(parts: HttpParts): Promise<Http> {
  const uploads = await openUploads(parts);
  const app = express();
  app.disable('x-powered-by');
  app.set('query parser', 'simple');
  // TLS ends in a proxy on the same machine, if anywhere: nobody else's word for the sender's address counts.
  app.set('trust proxy', 'loopback');
  app.use(securityHeaders(parts.config));
  app.use(healthRoutes(parts));
  app.use('/api', sameOriginOnly(parts.config), (_req, res, next) => {
    res.set('Cache-Control', 'no-store');
    next();
  });
  app.use('/api', identify(parts));
  // Before the body reader: an upload's body is a stream.
  app.use('/api/uploads', uploads.router);
  app.use('/api', packRoute(parts));
  app.use('/api', photoRoutes(parts));
  app.use('/api', express.json({ limit: jsonLimit }));
  for (const routes of resources) app.use('/api', routes(parts));
  app.use('/api', nothingHere);
  app.use(paperPage(parts));
  if (parts.webDir !== undefined) app.use(webFiles(parts.webDir));
  app.use(nothingHere);
  app.use(answerErrors(parts.alarm));
  return { app, sweep: uploads.sweep };
}
