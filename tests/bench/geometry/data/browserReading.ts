import { build } from 'esbuild';
import { launch } from '../../../browser/person.ts';

/* three reads 3MF with the browser's DOMParser, which Node has not: it is timed in a page of Chromium without a window. */

const PAGE = `
import { ThreeMFLoader } from 'three/examples/jsm/loaders/3MFLoader.js';
import { mergeVertices } from 'three/examples/jsm/utils/BufferGeometryUtils.js';
globalThis.readThreeMf = (base64, runs) => {
  const bytes = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  let [bare, merged, sides] = [Infinity, Infinity, 0];
  for (let run = 0; run < runs; run++) {
    const before = performance.now();
    const group = new ThreeMFLoader().parse(bytes.buffer.slice(0));
    const parsed = performance.now();
    sides = 0;
    group.traverse((part) => {
      if (part.geometry) sides += mergeVertices(part.geometry.deleteAttribute('normal'), 1e-9).index.count;
    });
    bare = Math.min(bare, parsed - before);
    merged = Math.min(merged, performance.now() - before);
  }
  return { bare, merged, triangles: sides / 3 };
};`;

/** What three took in the browser, wall milliseconds, least of some runs: to parse, and to parse and merge vertices. */
export interface BrowserReading {
  readonly bare: number;
  readonly merged: number;
  readonly triangles: number;
}

/** Times three's 3MF loader; the reason where there is no Chromium to time it in. */
export async function threeMfInBrowser(content: Uint8Array, runs: number): Promise<BrowserReading | string> {
  const { outputFiles } = await build({
    stdin: { contents: PAGE, resolveDir: process.cwd() },
    bundle: true,
    format: 'iife',
    write: false,
  });
  const browser = await launch().catch((error: unknown) => String(error).split('\n')[0] ?? 'no browser');
  if (typeof browser === 'string') return browser;
  try {
    const page = await browser.newPage();
    await page.addScriptTag({ content: outputFiles[0]?.text ?? '' });
    const asked = `readThreeMf(${JSON.stringify(Buffer.from(content).toString('base64'))}, ${runs})`;
    return await page.evaluate<BrowserReading>(asked);
  } finally {
    await browser.close();
  }
}
