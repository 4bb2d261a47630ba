// Boxes that wait to be opened while a tree is walked down, the nearest last.
import { CHILDREN, FOUR, ORDER } from './scratch';

/**
 * Lets those of four children wait whose gaps (squared) are less than a bound, the nearest last. `own` is the room of this instance, `bottom` the
 * end of what waits there, `first` the number of the first child. Gives the new end.
 */
// @ts-ignore: decorator
@inline
export function letWait(own: usize, bottom: usize, first: u32, squares: v128, bound: f32): usize {
  let mask = i32x4.bitmask(f32x4.lt(squares, f32x4.splat(bound)));
  if (!mask) return bottom;
  let waiting = bottom;
  v128.store(own, squares, FOUR);
  for (; mask; mask &= mask - 1) {
    const i = <u32>ctz(mask);
    waiting = waitAs(bottom, waiting, first + i, load<f32>(own + (<usize>i << 2), FOUR));
  }
  return waiting;
}

/** Lets one wait before those nearer than it; gives the new end. */
// @ts-ignore: decorator
@inline
export function waitAs(bottom: usize, end: usize, child: u32, order: f32): usize {
  let at = end;
  while (at > bottom && load<f32>(at - 4, ORDER) < order) {
    store<f32>(at, load<f32>(at - 4, ORDER), ORDER);
    store<u32>(at, load<u32>(at - 4, CHILDREN), CHILDREN);
    at -= 4;
  }
  store<f32>(at, order, ORDER);
  store<u32>(at, child, CHILDREN);
  return end + 4;
}
