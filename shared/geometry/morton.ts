/** Most bits of a coordinate in one key: three times ten fill a 30-bit key, which a typed array of 32 bits holds without a sign. */
const DIGIT = 1024;

/** Morton key of a cell: the bits of three whole numbers below 1024 in turn, x lowest. Neighbours along the keys are neighbours in space. */
export function mortonKey(x: number, y: number, z: number): number {
  return spread(x) | (spread(y) << 1) | (spread(z) << 2);
}

/** Puts two zero bits between the ten low bits of a number. */
function spread(x: number): number {
  let bits = x & 0x3ff;
  bits = (bits | (bits << 16)) & 0x030000ff;
  bits = (bits | (bits << 8)) & 0x0300f00f;
  bits = (bits | (bits << 4)) & 0x030c30c3;
  return (bits | (bits << 2)) & 0x09249249;
}

/**
 * Indices in ascending order of 30-bit keys: least-digit-first radix sort, ten bits a pass. Equal keys stay in the order they came in, so
 * that sorting by low keys first and by high keys after gives the order of both together.
 * @param start order to begin with, not changed; that of the indices when left out
 */
export function orderByKeys(keys: Uint32Array, start?: Uint32Array): Uint32Array {
  let from = new Uint32Array(keys.length);
  let to = new Uint32Array(keys.length);
  if (start) from.set(start);
  else for (let i = 0; i < from.length; i++) from[i] = i;
  for (let shift = 0; shift < 30; shift += 10) {
    const place = digitPlaces(keys, shift);
    if (!place) continue;
    for (let i = 0; i < from.length; i++) {
      const index = from[i] ?? 0;
      const digit = ((keys[index] ?? 0) >>> shift) & (DIGIT - 1);
      const slot = place[digit] ?? 0;
      to[slot] = index;
      place[digit] = slot + 1;
    }
    [from, to] = [to, from];
  }
  return from;
}

/** Where the first index of each digit goes; nothing when all keys have the same digit, which leaves the order as it is. */
function digitPlaces(keys: Uint32Array, shift: number): Uint32Array | undefined {
  const place = new Uint32Array(DIGIT + 1);
  for (let i = 0; i < keys.length; i++) {
    const digit = ((keys[i] ?? 0) >>> shift) & (DIGIT - 1);
    place[digit + 1] = (place[digit + 1] ?? 0) + 1;
  }
  if (place.includes(keys.length, 1)) return undefined;
  for (let d = 0; d < DIGIT; d++) place[d + 1] = (place[d + 1] ?? 0) + (place[d] ?? 0);
  return place;
}
