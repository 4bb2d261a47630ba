import { join } from 'node:path';
import express, { type RequestHandler } from 'express';

/** The built web app: hashed files for ever, the page itself fresh each time, also for the addresses it makes up. */
export function webFiles(folder: string): RequestHandler[] {
  return [
    express.static(folder, {
      index: 'index.html',
      redirect: false,
      setHeaders: (res, path) => void res.set('Cache-Control', isHashed(path) ? immutable : 'no-cache'),
    }),
    (req, res, next) => {
      const page = (req.method === 'GET' || req.method === 'HEAD') && req.accepts('html') && !isFile(req.path);
      if (!page) return next();
      res.set('Cache-Control', 'no-cache');
      res.sendFile(join(folder, 'index.html'), { cacheControl: false }, (error) => error && next(error));
    },
  ];
}

const immutable = 'public, max-age=31536000, immutable';

/** The build puts a hash of 8 or more characters before the extension of everything under assets/. */
function isHashed(path: string): boolean {
  return /[\\/]assets[\\/][^\\/]+-[\w-]{8,}\.[\w.]+$/.test(path);
}

/** A missing script answered with the page would only fail later and in a stranger way. */
function isFile(path: string): boolean {
  return /\.[a-z0-9]+$/i.test(path) || path.startsWith('/api/');
}
