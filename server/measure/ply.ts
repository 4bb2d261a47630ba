/**
 * Writes points as a binary little-endian PLY file with Float32 x, y, z.
 * @param points xyz triples, metres
 * @param perMetre file units in a metre: 1000 writes millimetres
 */
export function writeBinaryPly(points: Float32Array, perMetre = 1): Buffer {
  const count = Math.floor(points.length / 3);
  const lines = ['ply', 'format binary_little_endian 1.0', `element vertex ${count}`];
  for (const axis of ['x', 'y', 'z']) lines.push(`property float ${axis}`);
  const header = Buffer.from(`${lines.join('\n')}\nend_header\n`, 'latin1');
  const file = Buffer.alloc(header.length + 12 * count);
  header.copy(file);
  for (let i = 0; i < 3 * count; i++) file.writeFloatLE((points[i] ?? 0) * perMetre, header.length + 4 * i);
  return file;
}
