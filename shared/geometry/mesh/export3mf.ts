import { zipSync } from 'fflate';
import type { TriangleMesh } from './triangleMesh.ts';

const TYPES =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>';
const LINKS =
  '<?xml version="1.0" encoding="UTF-8"?>\n<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships"><Relationship Target="/3D/3dmodel.model" Id="rel0" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>';
const HEAD =
  '<?xml version="1.0" encoding="UTF-8"?>\n<model unit="millimeter" xml:lang="en" xmlns="http://schemas.microsoft.com/3dmanufacturing/core/2015/02"><resources><object id="1" type="model"><mesh><vertices>';
const FOOT = '</triangles></mesh></object></resources><build><item objectid="1"/></build></model>';

/** Lines made into bytes at a time: one string of a whole model would pass the longest there can be. */
const LINES = 8192;
/** Digits kept of a coordinate in millimetres: ten nanometres at a metre. */
const DIGITS = 9;
/** Any fixed time will do: the same mesh must give the same bytes. This is the earliest that a ZIP archive can state. */
const EARLIEST = new Date(1980, 0, 1);

/** A mesh as a 3MF file of one object, in millimetres. Source: 3MF core specification 1.3 (memory). */
export function threeMfBytes(mesh: TriangleMesh): Uint8Array<ArrayBuffer> {
  const { positions, indices } = mesh;
  const encoder = new TextEncoder();
  const number = (i: number): string => String(Number(((positions[i] ?? 0) * 1000).toPrecision(DIGITS)));
  const parts = [
    encoder.encode(HEAD),
    ...lines(
      positions.length / 3,
      (v) => `<vertex x="${number(3 * v)}" y="${number(3 * v + 1)}" z="${number(3 * v + 2)}"/>\n`,
    ),
    encoder.encode('</vertices><triangles>'),
    ...lines(
      indices.length / 3,
      (t) => `<triangle v1="${indices[3 * t]}" v2="${indices[3 * t + 1]}" v3="${indices[3 * t + 2]}"/>\n`,
    ),
    encoder.encode(FOOT),
  ];
  const model = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0));
  let at = 0;
  for (const part of parts) {
    model.set(part, at);
    at += part.length;
  }
  const files = {
    '[Content_Types].xml': encoder.encode(TYPES),
    '_rels/.rels': encoder.encode(LINKS),
    '3D/3dmodel.model': model,
  };
  return zipSync(files, { mtime: EARLIEST, level: 6 });
}

function lines(count: number, line: (i: number) => string): readonly Uint8Array[] {
  const encoder = new TextEncoder();
  const parts: Uint8Array[] = [];
  for (let from = 0; from < count; from += LINES) {
    let text = '';
    for (let i = from; i < Math.min(count, from + LINES); i++) text += line(i);
    parts.push(encoder.encode(text));
  }
  return parts;
}
