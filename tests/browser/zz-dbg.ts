import { launch, sitDown, signIn } from './person.ts';
import { startDemo } from './server.ts';
const b = await launch(); const s = await startDemo();
try {
const d = await sitDown(b, 'dbg');
await signIn(d, s, 'designer');
const p = d.page;
const count = () => p.evaluate(`new Promise((done) => { let n = 0; const before = performance.getEntriesByType('resource').length; const t0 = performance.now(); requestAnimationFrame(function f() { n++; if (performance.now() - t0 < 2000) requestAnimationFrame(f); else done([n, performance.getEntriesByType('resource').length - before]); }); })`);
const draws = `(() => { const c = WebGL2RenderingContext.prototype; if (!window.__n) { window.__n = { v: 0 }; const o = c.clear; c.clear = function (...a) { window.__n.v++; return o.apply(this, a); }; } const v = window.__n.v; window.__n.v = 0; return v; })()`;
await p.evaluate(draws);
for (let i = 0; i < 2; i++) console.log('plain frames/requests', await count(), 'draws', await p.evaluate(draws));
await p.getByRole('button', { name: 'Show how near' }).click();
await p.locator('[data-nearness=there]').waitFor();
for (let i = 0; i < 4; i++) console.log('near', await count(), 'draws', await p.evaluate(draws));
await p.getByRole('button', { name: 'Show how near' }).click();
for (let i = 0; i < 2; i++) console.log('off', await count(), 'draws', await p.evaluate(draws));
} finally { await s.close(); await b.close(); }
