// Memory is handed out upwards and given back down to a mark.

let top: usize = 0;

/** Where the next piece will stand. */
export function mark(): usize {
  if (top === 0) top = (__heap_base + 127) & ~127;
  return top;
}

/** Gives back everything from a mark on. */
export function release(to: usize): void {
  top = (to + 127) & ~127;
}

/** A piece of so many bytes, or 0 when the memory cannot grow that far. */
export function allocate(bytes: f64): usize {
  const at = mark();
  const end = <f64>at + bytes + 127;
  if (end > 4294901760.0) return 0;
  const next = <usize>end & ~127;
  const pages = <i32>((<u64>next + 65535) >> 16);
  const have = memory.size();
  if (pages > have && memory.grow(pages - have) < 0) return 0;
  top = next;
  return at;
}
