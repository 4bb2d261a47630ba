import type { RequestHandler } from 'express';
import helmet from 'helmet';
import type { Config } from '../config.ts';
import { Refusal } from './refusal.ts';
import { isBearer } from './requester.ts';

/** Response headers that tell browsers how little this site may do. */
export function securityHeaders({ origins, secure }: Config): RequestHandler[] {
  // 'self' covers sockets only in newer browsers, so the same origins are named with their socket schemes too.
  // A source list cannot hold a bracketed address; there 'self' has to do.
  const sockets = origins.filter((origin) => !origin.includes('[')).map((origin) => origin.replace(/^http/, 'ws'));
  return [
    helmet({
      contentSecurityPolicy: {
        useDefaults: false,
        directives: {
          'default-src': ["'none'"],
          'script-src': ["'self'", "'wasm-unsafe-eval'"],
          'worker-src': ["'self'"],
          'connect-src': ["'self'", ...sockets],
          'img-src': ["'self'", 'blob:', 'data:'],
          'style-src': ["'self'"],
          'font-src': ["'self'"],
          'manifest-src': ["'self'"],
          'base-uri': ["'none'"],
          'form-action': ["'self'"],
          'frame-ancestors': ["'none'"],
        },
      },
      strictTransportSecurity: secure,
      crossOriginEmbedderPolicy: false,
      referrerPolicy: { policy: 'no-referrer' },
      xFrameOptions: { action: 'deny' },
    }),
    (_req, res, next) => {
      res.set('Permissions-Policy', 'camera=(self), microphone=(), geolocation=()');
      next();
    },
  ];
}

const reading = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Refuses what another site's page makes a browser send. Browsers name the page's origin on every request that changes
 * something; scripts and command lines send neither header and have no cookie they were not given.
 */
export function sameOriginOnly({ origins }: Config): RequestHandler {
  return (req, _res, next) => {
    const origin = req.get('origin');
    const site = req.get('sec-fetch-site');
    const foreign =
      origin === undefined
        ? site !== undefined && site !== 'same-origin' && site !== 'none'
        : !origins.includes(origin);
    // No page of another site can make a browser send a token.
    if (!foreign || reading.has(req.method) || isBearer(req)) return next();
    throw new Refusal('bad-origin', {
      detail: 'changes are taken only from this server’s own pages; set ORIGIN to the address people open',
      expected: origins.join(' or '),
      came: origin ?? `a ${site} request`,
    });
  };
}
